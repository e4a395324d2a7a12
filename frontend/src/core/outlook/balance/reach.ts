import { feeder_says } from "./at_feeder.ts";
import { late_on, permille } from "./balance.ts";
import { slot_for } from "../ground/branches.ts";
import type { Context } from "../ground/context.ts";
import { held_score, milk_weighed } from "../feeding/needs.ts";
import type { Fed, Sums } from "../ground/shapes.ts";
import { centred } from "./surety.ts";
import { stage } from "../feeding/stages.ts";

/**
 * What a doe gets of what she can eat to. Under need alone is no fault of the feeder: who eats all she would is not
 * called short because hay is poor or her appetite falls; nor who is given less than she would eat and needs no more.
 */

/** Permille of what she can eat to: of need, or of all she would eat (less what that may be misjudged by). */
export function reach_pm(ctx: Context, fed: Sums, less_pm = 0): number {
  return Math.max(need_pm(ctx, fed), permille(fed.dm, fed.appetite_g) - less_pm);
}

/** Permille of her whole need, in the middle of the published figures. */
export function need_pm(ctx: Context, { got, need }: Sums): number {
  return centred(ctx, permille(got.me, need.me));
}

/** The floor she can eat to from the late day on [kJ], 0 before. */
export function floor_on(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  return slot && late_on(ctx, id, on) ? slot[0].floor_me_kj[slot[1]]! : 0;
}

/** Supply over the floor, permille; 0 before the late day. */
export function floor_pm(ctx: Context, id: string, { got, days }: Fed, on: string): number {
  const floor = floor_on(ctx, id, on) * Math.max(1, days);
  return floor ? permille(got.me, floor) : 0;
}

/**
 * Less than she can eat to by more than may be misjudged; late, under her floor and less before her than she eats.
 * Never where hay is left in her feeder; and where it is eaten up time after time, whatever we take her appetite for.
 */
export function below_reach(ctx: Context, id: string, fed: Fed, on: string, more_pm = 0): boolean {
  const [floor, seen] = [floor_pm(ctx, id, fed, on), feeder_says(ctx, id, on)];
  if (seen === "left") return false;
  const [clean, score_pm] = [seen === "clean", by_score(ctx, id)];
  // what has her heeded sooner is not added up
  const least = Math.max(more_pm, clean ? ctx.rule_or_ours("feeder_clean_pm") : 0, score_pm) + Math.min(0, score_pm);
  if (!floor) {
    const reach = clean ? need_pm(ctx, fed) : reach_pm(ctx, fed, ctx.rule_or_ours("appetite_less_pm"));
    return reach < clear_of(ctx, id, on) + least;
  }
  const open = 1000 - ctx.rule_or_ours("feeder_open_pm");
  return floor < 1000 && (clean || permille(fed.dm, fed.appetite_g) < open + Math.max(more_pm, least));
}

/** Below this she is short. In milk the sums read low, less where it was weighed; and a fresh doe goes under. */
export function clear_of(ctx: Context, id: string, on: string): number {
  const now = stage(ctx, id, on);
  if (now === "fresh") return 1000 - ctx.rule("fresh_slack_pm");
  if (now !== "milk") return 1000 - ctx.rule_or_ours("reach_clear_pm");
  return 1000 - ctx.rule("milk_slack_pm") + (milk_weighed(ctx, id, on) ? ctx.rule_or_ours("milk_weighed_pm") : 0);
}

/** A score that fell or is low moves it up, one that holds down. */
export function by_score(ctx: Context, id: string): number {
  const score = score_says(ctx, id);
  return score === "" ? 0 : ctx.rule_or_ours("score_moves_pm") * (score === "bad" ? 1 : -1);
}

/**
 * Whether a score that is fresh enough to go by fell or is below her band, or holds. One alone, or one a little lower
 * than the one before, says neither; nor does that of a heavy doe who comes down, but late.
 */
export function score_says(ctx: Context, id: string): "bad" | "holds" | "" {
  const [score, slot] = [held_score(ctx, id), slot_for(ctx, id, ctx.day)];
  if (score === null || slot === null) return "";
  const [low, high] = [slot[0].band_lo[slot[1]]!, slot[0].band_hi[slot[1]]!];
  const heavy = score.x100 >= high && !late_on(ctx, id, ctx.day);
  if (score.x100 < low || (score.fell >= ctx.rule("score_fell_x100") && !heavy)) return "bad";
  return score.trend && score.fell < ctx.rule("band_slack_x100") ? "holds" : "";
}
