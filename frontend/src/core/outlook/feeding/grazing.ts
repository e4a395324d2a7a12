import { div, sum } from "../../base/ints.ts";
import { appetite_on } from "./needs.ts";
import type { Context } from "../ground/context.ts";
import { SLOTS } from "../ground/context.ts";
import { plan_lines } from "./plan.ts";

/** Pasture and browse as light, half or full. Shares and spreads are the book's; nobody has weighed anything. */
export const AMOUNTS = ["light", "half", "full"] as const;
export type Amount = (typeof AMOUNTS)[number];

export interface Grazed {
  /** Of the plant as she bites it, for the whole pen. */
  g: number;
  low_g: number;
  high_g: number;
}

/**
 * What a pen may have taken, or null while its appetite, the plant's dry matter or the shares are not on this phone.
 */
export function grazed(ctx: Context, pen: string, on: string, amount: Amount, feed_id: string): Grazed | null {
  const dm_pm = ctx.feed(feed_id)?.dm_pm;
  const share = ctx.book.grazing?.[amount];
  const appetite = sum(ctx.pen_mates(pen, on).map((id) => appetite_on(ctx, id, on)));
  if (!dm_pm || !share || !appetite) return null;
  const [share_pm, spread_pm] = share;
  const g = about(div(appetite * share_pm, dm_pm));
  const spread = div(g * spread_pm, 1000);
  return { g, low_g: about(g - spread), high_g: about(g + spread) };
}

/** A guess is written as one: no more digits than it has. */
function about(g: number): number {
  const step = g >= 1000 ? 100 : 10;
  return step * div(g + step / 2, step);
}

/**
 * Where a feeding of its own does not pass for one that is planned: the first slot of the day without a plan, midday
 * first.
 */
export function grazing_slot(ctx: Context, pen: string, on: string): (typeof SLOTS)[number] {
  const order = ["midday", "late", "evening", "morning"] as const;
  return order.find((slot) => plan_lines(ctx, pen, on, slot).length === 0) ?? "midday";
}
