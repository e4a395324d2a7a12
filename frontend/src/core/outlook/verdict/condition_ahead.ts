import { slot_for } from "../ground/branches.ts";
import { Context, shift } from "../ground/context.ts";
import { in_danger } from "./feeder.ts";
import { on_her_way_up } from "./on_her_way.ts";
import { condition_ahead } from "../balance/score_ahead.ts";
import { thin_late } from "../balance/her_state.ts";
import type { ConditionAhead, DoeResult, Said } from "../ground/shapes.ts";
import { CONDITION_HOLD_X100, WEEK_D } from "../../tables/numbers.ts";

/**
 * Too thin at kidding even at the top of what is foretold: clearly, or with most to lose at all. Once said, until it is
 * better by more than a day's meals move it.
 */
export function condition_ahead_said(ctx: Context, id: string, result: DoeResult): Said | null {
  const ahead = result.due ? condition_ahead(ctx, id, result).condition_ahead : null;
  if (!ahead || ahead.x100 >= ahead.from || on_her_way_up(ctx, id)) return null;
  // that she is thin already, and late, is said as it is
  if (thin_late(ctx, id) && !result.awaited) return null;
  const above = above_edge(ctx, id, ahead);
  if (above >= CONDITION_HOLD_X100 || (above >= 0 && !was_low(ctx, id, result))) return null;
  const { from, x100, on } = ahead;
  return { code: "condition_ahead_low", args: { from, x100, low: low_of(ctx, id, ahead), on } };
}

function low_of(ctx: Context, id: string, { on }: ConditionAhead): number {
  const [branch, i] = slot_for(ctx, id, on) ?? slot_for(ctx, id, ctx.day)!;
  return branch.band_lo[i]!;
}

/** Hundredths by which the best that is foretold is not too thin; negative where it is. */
function above_edge(ctx: Context, id: string, ahead: ConditionAhead): number {
  return ahead.hi - low_of(ctx, id, ahead) + (in_danger(ctx, id) ? 0 : ctx.rule("band_slack_x100"));
}

/** On one of the days of the last week it was too thin. */
function was_low(ctx: Context, id: string, { standing, gest, due }: DoeResult): boolean {
  return Array.from({ length: WEEK_D }, (_, k) => k + 1).some((ago) => {
    const { eaten, sums } = ctx.memo;
    const then = new Context(ctx.view, ctx.outlooks, ctx.book, shift(ctx.day, -ago), ctx, { eaten, sums });
    const ahead = condition_ahead(then, id, { standing, gest: gest - ago, due }).condition_ahead;
    return ahead !== null && ahead.x100 < ahead.from && above_edge(then, id, ahead) < 0;
  });
}
