import { amount_on } from "../../state/planned.ts";
import type { Freeze, Ration } from "../../state/view.ts";
import { days_between, shift, type Context } from "./context.ts";
import { might_be_grain } from "./feed_classes.ts";
import type { Frozen } from "./shapes.ts";

/**
 * Grain held as it is while a doe is off her feed: planned raises do not come, and what is out stays out.
 */
export function freeze_on(ctx: Context, id: string, on: string): Freeze | null {
  const held = Object.hasOwn(ctx.view.does, id) ? ctx.doe(id).freeze : null;
  return held && held.since <= on && on <= held.until ? held : null;
}

/**
 * Grams of a ration line on a date: grain, and what may be grain, no more than on the day the freeze began, none while
 * it is out.
 */
export function held_amount(ctx: Context, ration: Ration, on: string, g: number): number {
  const { subject, feed, steps } = ration;
  const after_d = waited_d(ctx, ration, on);
  if (after_d) return Math.min(g, amount_on(steps, shift(on, -after_d)));
  const held = freeze_on(ctx, subject, on);
  if (held === null || !might_be_grain(ctx.feed(feed))) return g;
  return held.grain_out && held.out_on <= on ? 0 : Math.min(g, amount_on(steps, held.since));
}

/**
 * Days by which raises come later that were planned before a freeze now over: they go on from where they stood, and
 * what was missed does not come at once. 0 where somebody has planned this grain since.
 */
export function waited_d(ctx: Context, { subject, feed, hlc }: Ration, on: string): number {
  const held = Object.hasOwn(ctx.view.does, subject) ? ctx.doe(subject).freeze : null;
  if (held === null || on <= held.until || on < held.since || hlc > held.hlc) return 0;
  return might_be_grain(ctx.feed(feed)) ? days_between(held.since, held.until) + 1 : 0;
}

/** The freeze that holds today. */
export function frozen(ctx: Context, id: string): Frozen | null {
  const held = freeze_on(ctx, id, ctx.day);
  if (held === null) return null;
  const { since, until, grain_out, author } = held;
  return { since, until, grain_out, author, days_left: days_between(ctx.day, until) };
}
