import { div } from "../base/ints.ts";
import { gestation_on, permille } from "./balance.ts";
import { slot_for } from "./branches.ts";
import { PHASE } from "../tables/codes.ts";
import type { Context } from "./context.ts";
import { last_score } from "./needs.ts";
import { holds_over, over_by } from "./over.ts";
import type { BranchDay, State, Sums, Window } from "./shapes.ts";
import { centred, energy_band, sure } from "./surety.ts";
import { stage } from "./witness.ts";
import { MANY_KIDS_X100 } from "../tables/numbers.ts";

/** How her week's energy stands against need, and from where a planned day is told. */
export type Judged = Sums & { days: number };

/** Late: short only below the floor she can eat to. Before: the middle of the band outside what counts as level. */
export function energy_state(ctx: Context, id: string, sums: Judged, pm: number, on: string): State {
  const floor = floor_on(ctx, id, on);
  if (floor) return sums.got.me < floor * Math.max(1, sums.days) ? "short" : "level";
  const seen = centred(ctx, pm);
  if (seen < 1000 - ctx.rule("level_pm"))
    return seen >= 1000 - slack(ctx, id, slot_for(ctx, id, on)) ? "level" : "short";
  return over_by(ctx, id, sums, pm, on) ? "over" : "level";
}

/** The floor she can eat to from the late day on [kJ], 0 before. */
export function floor_on(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  return slot && gestation_on(ctx, id, on) >= ctx.rule("late_day") ? slot[0].floor_me_kj[slot[1]]! : 0;
}

/** How far under need is level: a fresh doe cannot eat to need, a doe whose fresh score holds does not have to. */
function slack(ctx: Context, id: string, slot: BranchDay | null): number {
  const score = last_score(ctx, id);
  if (slot !== null && slot[0].phase[slot[1]] === PHASE.fresh) return ctx.rule("fresh_slack_pm");
  const holds = score !== null && score.age_d <= ctx.rule("score_holds_d") && score.x100 >= ctx.rule("score_thin_x100");
  return holds && score.fell < ctx.rule("score_fell_x100") ? ctx.rule("slight_under_pm") : 0;
}

/** Where the band must end for the sums alone to say short: in milk they read low, and a fresh doe goes under. */
export function clear_of(ctx: Context, id: string, on: string): number {
  const now = stage(ctx, id, on);
  return (
    1000 -
    (now === "fresh"
      ? ctx.rule("fresh_slack_pm")
      : now === "milk"
        ? ctx.rule_or_ours("milk_slack_pm")
        : ctx.rule_or_ours("short_clear_pm"))
  );
}

/** Whether a planned day's state is clear enough to be told: the week's doubt is laid about the day's ratio. */
export function ahead_stands(ctx: Context, id: string, sums: Sums, state: State, on: string, week: Window): boolean {
  const pm = permille(sums.got.me, sums.need.me);
  const floor = floor_on(ctx, id, on);
  if (floor) {
    const many = (ctx.outlooks[id]!.who?.litter_x100 ?? 0) >= MANY_KIDS_X100;
    return sums.got.me * 1000 < floor * (1000 - ctx.rule_or_ours(many ? "late_many_clear_pm" : "late_ahead_clear_pm"));
  }
  const now = week.days ? permille(week.got.me, week.need.me) : 0;
  if (now <= 0) return false;
  const [lo, hi] = energy_band(ctx, week).map((edge) => div(edge * pm, now)) as [number, number];
  if (state === "short") return hi < clear_of(ctx, id, on) - ctx.rule_or_ours("ahead_clear_pm");
  return sure(state, [lo, hi]) && !holds_over(ctx, id, pm, on);
}
