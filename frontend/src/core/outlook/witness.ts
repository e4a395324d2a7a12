import { confirmed, eaten_on, enough_days, gestation_on, permille, window } from "./balance.ts";
import { slot_for } from "./branches.ts";
import { PHASE } from "../tables/codes.ts";
import { high_ketones } from "./checkups.ts";
import { days_back } from "./feeder.ts";
import { shift, type Context } from "./context.ts";
import { last_score, milk_on } from "./needs.ts";
import type { Window } from "./shapes.ts";
import { said_left } from "./sharing.ts";
import { MISSED_STEP_D, MISSED_STEP_PM, REFUSAL_D, REFUSAL_PM, WEEK_D } from "../tables/numbers.ts";

/** What bears out the sums. */
export type Observed = "refusal" | "ketones" | "missed_step" | "";
export type Witness = Observed | "condition" | "less_feed";

const SLOW = new Set(["slow", "not_up"]);

/** Her condition where a hand may be taken at its word, else what was observed, or less feed than before. */
export function witness(ctx: Context, id: string, by_hand = true): Witness {
  if (by_hand && condition(ctx, id)) return "condition";
  return observed(ctx, id) || (less_feed(ctx, id) ? "less_feed" : "");
}

export function observed(ctx: Context, id: string): Observed {
  if (refusal(ctx, id)) return "refusal";
  if (high_ketones(ctx, id)) return "ketones";
  return missed_step(ctx, id) ? "missed_step" : "";
}

/** Clearly less than the week before, in the same stage: against need, late against what she could eat. */
export function less_feed(ctx: Context, id: string): boolean {
  const [week, before] = [window(ctx, id, WEEK_D), window(ctx, id, WEEK_D, WEEK_D)];
  if (!enough_days(ctx, before) || !same_stage(ctx, id)) return false;
  // late her appetite falls by itself, and that is no fault of the feed
  const late = gestation_on(ctx, id, ctx.day) >= ctx.rule("late_day");
  const against = (part: Window) => (late ? part.appetite_g : part.need.me);
  if (against(week) <= 0 || against(before) <= 0) return false;
  const [now, usual] = [permille(week.got.me, against(week)), permille(before.got.me, against(before))];
  return now * 1000 < usual * (1000 - ctx.rule_or_ours("feed_fell_pm"));
}

/** Whether she was fresh, in milk or neither a week ago as she is today. */
export function same_stage(ctx: Context, id: string): boolean {
  return stage(ctx, id, ctx.day) === stage(ctx, id, shift(ctx.day, -WEEK_D));
}

/** Empty outside what was compiled. */
export function stage(ctx: Context, id: string, on: string): "fresh" | "milk" | "dry" | "" {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return "";
  return slot[0].phase[slot[1]] === PHASE.fresh ? "fresh" : milk_on(ctx, id, on) ? "milk" : "dry";
}

function condition(ctx: Context, id: string): boolean {
  const score = last_score(ctx, id);
  const slot = slot_for(ctx, id, ctx.day);
  if (score === null || slot === null || score.age_d > ctx.rule("score_holds_d")) return false;
  return score.x100 < slot[0].band_lo[slot[1]]! || score.fell >= ctx.rule("score_fell_x100");
}

function refusal(ctx: Context, id: string): boolean {
  return days_back(ctx, 0, REFUSAL_D).some((on) =>
    (ctx.intakes.get(on) ?? []).some(
      (intake) => intake.subject === id && (SLOW.has(intake.how) || said_left(ctx, intake) >= REFUSAL_PM),
    ),
  );
}

function missed_step(ctx: Context, id: string): boolean {
  return days_back(ctx, 1, MISSED_STEP_D).some((on) => {
    const planned = eaten_on(ctx, id, on, true).day_g;
    return confirmed(ctx, id, on) && eaten_on(ctx, id, on).day_g * 1000 < planned * MISSED_STEP_PM;
  });
}
