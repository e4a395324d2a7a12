import { amount_on } from "../../state/rations.ts";
import type { Freeze, Ration } from "../../state/view.ts";
import { days_between, type Context } from "./context.ts";
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
export function held_amount(ctx: Context, { subject, feed, steps }: Ration, on: string, g: number): number {
  const held = freeze_on(ctx, subject, on);
  if (held === null || !might_be_grain(ctx.feed(feed))) return g;
  return held.grain_out && held.out_on <= on ? 0 : Math.min(g, amount_on(steps, held.since));
}

/** The freeze that holds today. */
export function frozen(ctx: Context, id: string): Frozen | null {
  const held = freeze_on(ctx, id, ctx.day);
  if (held === null) return null;
  const { since, until, grain_out, author } = held;
  return { since, until, grain_out, author, days_left: days_between(ctx.day, until) };
}
