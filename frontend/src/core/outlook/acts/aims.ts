import { div } from "../../base/ints.ts";
import { day_sums, permille } from "../balance/balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { floor_on } from "../balance/reach.ts";
import type { Fed } from "../ground/shapes.ts";
import { in_danger } from "../verdict/feeder.ts";
import { calcium_state, dense } from "../verdict/verdicts.ts";
import { ACT_AIM_LOOK_D, ACT_AIM_PM, ACT_HOLDS_D, AHEAD_D } from "../../tables/numbers.ts";
import type { Ahead } from "./forward.ts";
import type { Goal } from "../verdict/goals.ts";
import { past_limits } from "./limits.ts";

/** Whether the sums of the plan alone reach what an act aims at: cheap, and before anything is tried. */
export function reaches(ahead: Ahead, id: string, goal: Goal, until_d: number): boolean {
  const { planned, last_d } = ahead;
  const end_d = Math.max(until_d, until_d < AHEAD_D ? Math.min(last_d, latest_d(planned, id)) : 0);
  const looks = ACT_AIM_LOOK_D.filter((days) => days <= AHEAD_D || lasts(planned, id, goal, days));
  // what comes in steps is looked at once it is all there
  const all = looks.map((days) => Math.min(Math.max(days, last_d), end_d)).concat(
    until_d > AHEAD_D ? foretold(planned, id, goal) : [],
  );
  return [...new Set(all)].every((days) => {
    const on = shift(planned.day, days);
    const sums = day_sums(planned, id, on, true);
    return sums === null || aimed(planned, id, goal, sums, on);
  });
}

/** Nobody knows her day: what is in place before her latest one comes in time. */
function latest_d(ctx: Context, id: string): number {
  const due = ctx.doe(id).bred ? ctx.outlooks[id]!.due : null;
  return due ? days_between(ctx.day, due.late) : 0;
}

/** An amount is to last as her need climbs. Late only where she is thin: what is too much now is none in a month. */
function lasts(ctx: Context, id: string, { way, of, by_score }: Goal, days: number): boolean {
  return way === "up" && (of === "ca" || by_score || !floor_on(ctx, id, shift(ctx.day, days)));
}

/** Late, what she will lack of calcium is said two weeks before, and her need of it climbs until she kids. */
function foretold(ctx: Context, id: string, { way, of }: Goal): number[] {
  const due = ctx.doe(id).bred ? ctx.outlooks[id]!.due : null;
  const last_d = due ? days_between(ctx.day, due.mid) - 1 : 0;
  return way === "up" && of === "ca" && last_d > ACT_HOLDS_D ? [Math.min(last_d, ACT_HOLDS_D + AHEAD_D)] : [];
}

function aimed(ctx: Context, id: string, goal: Goal, sums: Fed, on: string): boolean {
  const past = () => past_limits(ctx, id, on);
  switch (goal.way) {
    case "up":
      return enough(ctx, id, goal, sums, on);
    case "down":
      return permille(sums.got[goal.of], sums.need[goal.of]) <= most(ctx, goal) || thin_in_calcium(ctx, goal, sums);
    case "limit":
      return !past()?.meal && !past()?.day;
    case "fibre":
      return sums.ndf_g * 1000 >= sums.dm * ctx.rule("ndf_low_pm") && !past()?.share && !past()?.forage;
    case "steps":
    case "cut":
      return true;
  }
}

function enough(ctx: Context, id: string, { of, by_score, whole, just }: Goal, sums: Fed, on: string): boolean {
  const { got, need } = sums;
  const floor = of === "me" && !whole && !in_danger(ctx, id) ? floor_on(ctx, id, on) : 0;
  const far = days_between(ctx.day, on) > AHEAD_D;
  if (floor) return got.me * 1000 >= floor * (far ? 1000 : ACT_AIM_PM.late);
  const pm = permille(got[of], need[of]);
  const inside = just ? pm : div(pm * ACT_AIM_PM.other, 1000);
  if (of === "ca") return calcium_state(ctx, id, sums, inside, on) !== "short";
  if (of !== "me") return pm >= ACT_AIM_PM.other;
  // need climbs: what is level at first may come near the edge in a month
  if (far) return pm >= ACT_AIM_PM.later;
  return pm >= (by_score ? ACT_AIM_PM.thin : ACT_AIM_PM.up);
}

/** So little of it in her feed that nobody calls it over. */
function thin_in_calcium(ctx: Context, { of }: Goal, { got, dm }: Fed): boolean {
  return of === "ca" && dense(got.ca, dm) <= ctx.rule("calcium_dense_ug_g");
}

/** Calcium is over only far above need. */
function most(ctx: Context, { of }: Goal): number {
  return of === "ca" ? ACT_AIM_PM.down + ctx.rule("calcium_pm") : ACT_AIM_PM.over;
}

/** Late, nearly what she can eat to; before the late day it is not asked. */
export function at_floor(ctx: Context, id: string, on: string): boolean {
  const [sums, floor] = [day_sums(ctx, id, on, true), floor_on(ctx, id, on)];
  return sums === null || !floor || sums.got.me * 1000 >= floor * (1000 - ctx.rule_or_ours("late_unscored_pm"));
}
