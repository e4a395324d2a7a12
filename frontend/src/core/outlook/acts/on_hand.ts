import { compareText } from "../../events/order.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { FORAGE } from "../../tables/codes.ts";
import { ACT_HAND_D, ACT_LOT_D } from "../../tables/numbers.ts";
import { leaves } from "../feeding/sharing.ts";

/** What may go into an act by class; sprouts, fat and minerals are never one. */
const GRAINS = ["grain", "protein", "byproduct"];

/** Feeds on the farm with a known energy: fed, planned or opened in the last weeks, and this season's lots. */
export function on_hand(ctx: Context): string[] {
  const { rations, lots, feeds, bags, feedings } = ctx.view;
  const since = shift(ctx.day, -ACT_HAND_D);
  const found = new Set(Object.keys(feeds));
  for (const { feed, steps } of Object.values(rations)) {
    if (steps.some(([, g], i) => g > 0 && (steps[i + 1]?.[0] ?? ctx.day) >= since)) found.add(feed);
  }
  for (const [id, { f }] of Object.entries(lots)) {
    const opened = String(f["opened_on"] ?? "");
    if (!opened || days_between(opened, ctx.day) <= ACT_LOT_D) found.add(id);
  }
  for (const [feed, opened] of Object.entries(bags)) if (opened.some(({ on }) => on >= since)) found.add(feed);
  for (const { on, lines } of feedings) if (on >= since) for (const [, feed] of lines) found.add(feed);
  return [...found].filter((feed) => usable(ctx, feed)).sort(compareText);
}

function usable(ctx: Context, id: string): boolean {
  const feed = ctx.feed(id);
  if (!feed || feed.grazed || feed.tray_g) return false;
  const known = feed.dm_pm !== null && feed.dm_pm > 0 && feed.me_kj_kg !== null && feed.me_kj_kg > 0;
  return known && (FORAGE.includes(feed.class) || GRAINS.includes(feed.class));
}

/** Nobody who would stand before it leaves it. */
export function eaten_by_all(ctx: Context, ids: string[], feed: string): boolean {
  return ids.every((id) => !leaves(ctx, id, feed));
}
