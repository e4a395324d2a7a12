import { div } from "../../base/ints.ts";
import { confirmed, day_sums } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { is_forage, is_legume } from "../ground/feed_classes.ts";
import { pen_on } from "../../state/where.ts";
import type { Said, Sums } from "../ground/shapes.ts";
import { late_calcium } from "../verdict/verdicts.ts";
import { STEPS_SAID_AHEAD_D } from "../../tables/numbers.ts";

/** A planned day on which her forage turns from grass to legume, or back, faster than the gut follows. */
export function forage_switch(ctx: Context, id: string): Said | null {
  let before = share(ctx, confirmed(ctx, id, ctx.day) ? null : day_sums(ctx, id, shift(ctx.day, -1), false));
  for (let k = 0; k <= STEPS_SAID_AHEAD_D; k++) {
    const on = shift(ctx.day, k);
    const now = share(ctx, day_sums(ctx, id, on, true));
    if (before !== null && now !== null && too_fast(ctx, before, now) && !went_on(ctx, id, on)) {
      const args = { on, from_pm: before, to_pm: now, near: late_calcium(ctx, id, on), up: now > before };
      return { code: "forage_switch_planned", args };
    }
    before = now;
  }
  return null;
}

function too_fast(ctx: Context, before: number, now: number): boolean {
  return Math.abs(now - before) > ctx.rule_or_ours("forage_switch_pm");
}

/** Somebody who plans was asked about that day's hay, and gave a reason to go on. */
function went_on(ctx: Context, id: string, on: string): boolean {
  const rations = [id, pen_on(ctx.doe(id), on)].flatMap((who) => ctx.plans.get(who) ?? []);
  return rations.some(
    ({ feed, marks }) => is_forage(ctx.feed(feed)) && marks.some((mark) => mark.on === on && mark.reason !== ""),
  );
}

/** Legume in her forage, permille of its dry matter, mixed hay by half; null where she gets none. */
function share(ctx: Context, sums: Sums | null): number | null {
  if (!sums?.forage_g) return null;
  let legume_g = 0;
  for (const [id, g] of Object.entries(sums.dm_by)) {
    const feed = ctx.feed(id);
    if (is_forage(feed) && is_legume(feed)) legume_g += feed!.class === "mixed" ? div(g, 2) : g;
  }
  return div(legume_g * 1000, sums.forage_g);
}
