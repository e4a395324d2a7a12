import { Context } from "../ground/context.ts";
import type { Outlook } from "../ground/documents.ts";
import type { BookFeed } from "../ground/herd_figures.ts";
import type { DoeResult } from "../ground/shapes.ts";
import type { RuleName } from "../../tables/rules.ts";
import { judge, units_of, type Unit } from "./units.ts";

/** The farm as it would be with other documents: nothing is written, and nothing is shared with the farm as it is. */
export type Rules = Partial<Record<RuleName, number>>;

/**
 * With these herd rules. What the server compiles by them, needs and dates among it, stays as it lies on the phone, but
 * for the step of grain, which is a limit of its own.
 */
export function with_rules(ctx: Context, rules: Rules): Context {
  const chosen = Object.entries(rules) as [RuleName, number][];
  const book = { ...ctx.book, rules: { ...ctx.book.rules, ...Object.fromEntries(chosen) } };
  return new Context(ctx.view, chosen.some(([name]) => name.startsWith("step_")) ? stepped(ctx, rules) : ctx.outlooks,
    book, ctx.day, ctx);
}

function stepped({ outlooks }: Context, rules: Rules): Record<string, Outlook> {
  const found: Record<string, Outlook> = {};
  for (const id of Object.keys(outlooks)) {
    const get = () => {
      const outlook = outlooks[id]!;
      const own = rules[outlook.who?.size === "mini" ? "step_mini_g" : "step_standard_g"];
      const { limits } = outlook;
      const step_days = rules.step_days ?? limits.step_days;
      return { ...outlook, limits: { ...limits, step_days, step_g: own ?? limits.step_g } };
    };
    Object.defineProperty(found, id, { enumerable: true, get });
  }
  return found;
}

/** With a feed or a lot made of something else. */
export function with_feed(ctx: Context, id: string, made_of: BookFeed): Context {
  const book = { ...ctx.book, feeds: { ...ctx.book.feeds, [id]: made_of } };
  return new Context(ctx.view, ctx.outlooks, book, ctx.day, ctx);
}

/** Whether what was compiled of a doe hangs on one of these rules: that follows with the server's next word. */
export function compiled_by({ outlooks }: Context, names: RuleName[]): boolean {
  return Object.keys(outlooks).some((id) => {
    const read = outlooks[id]!.cites?.rules ?? {};
    return names.some((name) => Object.hasOwn(read, name));
  });
}

/** Each doe as she is and as she would be, pen by pen; breathes after each doe. */
export function* compared(
  then: Context, is: (unit: string) => Unit,
): Generator<void, [was: DoeResult, would: DoeResult][]> {
  const pairs: [DoeResult, DoeResult][] = [];
  for (const unit of units_of(then)) {
    const would = yield* judge(then, unit);
    const was = is(unit);
    for (const id of Object.keys(would.does)) if (was.does[id]) pairs.push([was.does[id], would.does[id]!]);
    yield;
  }
  return pairs;
}
