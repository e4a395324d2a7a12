import { compareText } from "../../events/order.ts";
import { amount_on, place_key } from "../../state/planned.ts";
import type { Ration } from "../../state/view.ts";
import { on_hand, eaten_by_all } from "../acts/on_hand.ts";
import type { ActLine } from "../acts/shapes.ts";
import { pen_on } from "../../state/where.ts";
import { div } from "../../base/ints.ts";
import { changed } from "../gates/change.ts";
import { Context, shift, SLOTS } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { as_if_weighed, planned_slots } from "../feeding/plan.ts";
import { grain_g } from "../feeding/sharing.ts";

/** Where her feed stands in the plan, and the plan with other lines in it. */

const own = new WeakMap<Context, Context>();

/** So that no look-up of the farm as it is learns of what is only tried. */
export function own_context(ctx: Context): Context {
  const found = own.get(ctx) ?? as_if_weighed(new Context(ctx.view, ctx.outlooks, ctx.book, ctx.day, ctx));
  own.set(ctx, found);
  return found;
}

export function with_lines(ctx: Context, lines: ActLine[]): Context {
  const rations = { ...ctx.view.rations };
  for (const { subject, feed, slot, steps } of lines)
    Object.assign(rations, changed(rations, { subject, feed, slots: [slot], steps }));
  return new Context({ ...ctx.view, rations }, ctx.outlooks, ctx.book, ctx.day, ctx);
}

/** Where she eats: her pen, or she herself where she stands in none. */
export const unit_at = (ctx: Context, id: string): string => pen_on(ctx.doe(id), ctx.day) || id;

export function stands_alone(ctx: Context, id: string): boolean {
  return ctx.pen_mates(unit_at(ctx, id), ctx.day).filter((mate) => ctx.here(mate)).length < 2;
}

/** Lines of a doe's or a feeder's plan that give something today or later. */
export function given_to(ctx: Context, subject: string): Ration[] {
  const fed = ({ steps }: Ration) => amount_on(steps, ctx.day) > 0 || steps.some(([on, g]) => on > ctx.day && g > 0);
  return (ctx.plans.get(subject) ?? []).filter(fed);
}

/** Her own grain first, then what most does of the farm are given, then any that is on the farm. */
export function grains_for(ctx: Context, id: string): string[] {
  const all = on_hand(ctx).filter((feed) => ctx.feed(feed)!.class === "grain" && eaten_by_all(ctx, [id], feed));
  const hers = new Set(given_to(ctx, id).map(({ feed }) => feed));
  const others = (feed: string) =>
    Object.values(ctx.view.rations).filter((one) => one.feed === feed && amount_on(one.steps, ctx.day) > 0).length;
  return all.sort((a, b) =>
    Number(hers.has(b)) - Number(hers.has(a)) || others(b) - others(a) || compareText(a, b));
}

/** The feedings at which she gets grain already; else morning and evening, as far as she is fed then. */
export function grain_slots(ctx: Context, id: string): string[] {
  const hers = given_to(ctx, id).filter(({ feed }) => is_grain(ctx.feed(feed))).map(({ slot }) => slot);
  if (hers.length) return SLOTS.filter((slot) => hers.includes(slot));
  const fed = planned_slots(ctx, id, shift(ctx.day, 1));
  const usual = fed.filter((slot) => slot === "morning" || slot === "evening");
  return usual.length ? usual : fed.slice(0, 2);
}

/** Grams of a feed as fed at each of some feedings that make so much dry grain a day. */
export function as_fed(ctx: Context, feed: string, slots: string[], dry_grain_g: number): number {
  return div(dry_grain_g * 1000, Math.max(1, grain_g(ctx, [[feed, 1000 * slots.length]])));
}

/** One line a feeding, with what is given there before the first of its steps. */
export function lines_for(
  ctx: Context, subject: string, feed: string, slots: string[], steps: ActLine["steps"],
): ActLine[] {
  return slots.map((slot) => {
    const held = ctx.view.rations[place_key(subject, slot, feed)]?.steps ?? [];
    const to = Object.hasOwn(ctx.view.does, subject) ? "doe" : "pen";
    return { subject, to, slot, feed, from_g: amount_on(held, shift(steps[0]![0], -1)), steps };
  });
}
