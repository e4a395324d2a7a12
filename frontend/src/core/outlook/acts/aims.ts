import { day_sums, permille } from "../balance.ts";
import { shift, type Context } from "../context.ts";
import { floor_on } from "../energy.ts";
import type { Sums } from "../shapes.ts";
import { ACT_AIM_LOOK_D, ACT_AIM_PM, AHEAD_D } from "../../tables/numbers.ts";
import type { Ahead } from "./forward.ts";
import type { Goal } from "./goals.ts";
import { past_limits } from "./limits.ts";

/** Whether the sums of the plan alone reach what an act aims at: cheap, and before anything is tried. */
export function reaches(ahead: Ahead, id: string, goal: Goal, until_d: number): boolean {
  // need climbs with her litter: what is too much now need not be watched for a month
  const looks = goal.way === "up" ? ACT_AIM_LOOK_D : ACT_AIM_LOOK_D.filter((days) => days <= AHEAD_D);
  return [...new Set(looks.map((days) => Math.min(days, until_d)))].every((days) => {
    const on = shift(ahead.planned.day, days);
    const sums = day_sums(ahead.planned, id, on, true);
    return sums === null || aimed(ahead.planned, id, goal, sums, on);
  });
}

function aimed(ctx: Context, id: string, goal: Goal, sums: Sums, on: string): boolean {
  const past = () => past_limits(ctx, id, on);
  switch (goal.way) {
    case "up":
      return enough(ctx, id, goal, sums, on);
    case "down":
      return permille(sums.got[goal.of], sums.need[goal.of]) <= most(ctx, goal);
    case "limit":
      return !past()?.meal && !past()?.day;
    case "fibre":
      return sums.ndf_g * 1000 >= sums.dm * ctx.rule("ndf_low_pm");
    case "steps":
    case "cut":
      return true;
  }
}

function enough(ctx: Context, id: string, { of, by_score }: Goal, { got, need }: Sums, on: string): boolean {
  const floor = of === "me" ? floor_on(ctx, id, on) : 0;
  if (floor) return got.me * 1000 >= floor * ACT_AIM_PM.late;
  const aim = of === "me" ? (by_score ? ACT_AIM_PM.thin : ACT_AIM_PM.up) : ACT_AIM_PM.other;
  return permille(got[of], need[of]) >= aim;
}

/** Calcium is over only far above need. */
function most(ctx: Context, { of }: Goal): number {
  return of === "ca" ? ACT_AIM_PM.down + ctx.rule("calcium_pm") : ACT_AIM_PM.down;
}
