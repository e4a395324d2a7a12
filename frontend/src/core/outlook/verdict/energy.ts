import { div } from "../../base/ints.ts";
import { permille } from "../balance/balance.ts";
import { slot_for } from "../ground/branches.ts";
import { PHASE } from "../../tables/codes.ts";
import type { Context } from "../ground/context.ts";
import { in_danger, many_on_plain } from "./feeder.ts";
import { below_held, fell_below } from "./held.ts";
import { over_by } from "./over.ts";
import { cut_ahead } from "./put_less.ts";
import { clear_of, floor_on, floor_pm, score_says } from "../balance/reach.ts";
import type { Fed, State, Window } from "../ground/shapes.ts";
import { stage } from "../feeding/stages.ts";
import { centred } from "../balance/surety.ts";

/** How her week's energy stands against need, and a planned day against what she held on. */

/**
 * Late: short only below the floor she can eat to, with most to lose below need at the top of the figures. Before:
 * the middle of the band outside what counts as level.
 */
export function energy_state(ctx: Context, id: string, fed: Fed, pm: number, on: string): State {
  if (fell_below(ctx, id)) return "short";
  const [seen, least] = [centred(ctx, pm), 1000 - ctx.rule("level_pm")];
  if (floor_on(ctx, id, on))
    return floor_pm(ctx, id, fed, on) < 1000 || (in_danger(ctx, id) && pm < least) ? "short" : "level";
  if (seen < least) return seen >= 1000 - slack(ctx, id, on) ? "level" : "short";
  return over_by(ctx, id, fed, pm, on) ? "over" : "level";
}

/** How far under need is level: a fresh doe cannot eat to need, a doe whose fresh score holds does not have to. */
export function slack(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  if (slot !== null && slot[0].phase[slot[1]] === PHASE.fresh) return ctx.rule("fresh_slack_pm");
  return score_says(ctx, id) === "holds" ? ctx.rule("slight_under_pm") : 0;
}

/** A planned day: short below what she held on; over where it is clearly more than now and something bears it out. */
export function planned_state(ctx: Context, id: string, sums: Fed, on: string, week: Window): State {
  if (below_held(ctx, id, sums, on) || cut_ahead(ctx, id, sums, on, week)) return "short";
  const [pm, now] = [permille(sums.got.me, sums.need.me), permille(week.got.me, week.need.me)];
  if (pm * 1000 < now * (1000 + ctx.rule("level_pm"))) return "level";
  // at dry-off feed follows milk down as a matter of course
  if (floor_on(ctx, id, on) || stage(ctx, id, on) !== stage(ctx, id, ctx.day)) return "level";
  if (score_says(ctx, id) === "holds" && pm <= 1000 + ctx.rule("over_hold_pm")) return "level";
  return over_by(ctx, id, sums, pm, on) ? "over" : "level";
}

/**
 * So far under that not even the far edge of what cannot be known reaches what she can eat to; with three kids, her
 * whole need, where richer hay would bring her nearer.
 */
export function beyond_edge(ctx: Context, id: string, hi: number, week: Window): boolean {
  const floor = floor_on(ctx, id, ctx.day);
  if (floor) {
    if (hi < 1000 - ctx.rule_or_ours("many_clear_pm") && many_on_plain(ctx, id, week)) return true;
    return div(week.need.me, Math.max(1, week.days)) * hi < floor * 1000;
  }
  const reads_low = stage(ctx, id, ctx.day) === "dry" ? 1000 : clear_of(ctx, id, ctx.day);
  return hi < reads_low - ctx.rule_or_ours("short_clear_pm");
}
