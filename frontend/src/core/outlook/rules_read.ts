import { window } from "./balance.ts";
import { Context } from "./context.ts";
import { energy_word } from "./energy_word.ts";
import type { Nutrient } from "./shapes.ts";
import { line_for, lines_for, own_calcium } from "./verdicts.ts";
import { WEEK_D } from "../tables/numbers.ts";

type Work = (ctx: Context) => unknown;

/** Names of the herd rules read while something is worked, sorted; those `before` reads do not count. */
export function rules_read(ctx: Context, work: Work, before?: Work): string[] {
  const read = new Set<string>();
  const rules = new Proxy(ctx.rules, {
    get(of, name) {
      if (typeof name === "string") read.add(name);
      return Reflect.get(of, name) as number;
    },
  });
  const heard = new Context(ctx.view, ctx.outlooks, { ...ctx.book, rules }, ctx.day, ctx);
  before?.(heard);
  read.clear();
  work(heard);
  return [...read].sort();
}

/** The rules her verdict on a nutrient hangs on, once need and supply of her days are known. */
export function judged_by(ctx: Context, id: string, key: Nutrient): string[] {
  const judge = (heard: Context) => {
    const line = line_for(heard, id, key);
    if (key === "me") energy_word(heard, id, line);
    if (key === "ca") own_calcium(heard, id, window(heard, id, WEEK_D));
  };
  return rules_read(ctx, judge, (heard) => lines_for(heard, id));
}
