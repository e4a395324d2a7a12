import { slot_for } from "../ground/branches.ts";
import type { Context } from "../ground/context.ts";
import { in_danger } from "./feeder.ts";
import { on_her_way_up } from "./on_her_way.ts";
import { condition_ahead } from "../balance/score_ahead.ts";
import { thin_late } from "../balance/her_state.ts";
import type { DoeResult, Said } from "../ground/shapes.ts";

/** Too thin at kidding even at the top of what is foretold: clearly, or with most to lose at all. */
export function condition_ahead_said(ctx: Context, id: string, result: DoeResult): Said | null {
  const ahead = result.due ? condition_ahead(ctx, id, result).condition_ahead : null;
  if (!ahead || ahead.x100 >= ahead.from || on_her_way_up(ctx, id)) return null;
  // that she is thin already, and late, is said as it is
  if (thin_late(ctx, id) && !result.awaited) return null;
  const slot = slot_for(ctx, id, ahead.on) ?? slot_for(ctx, id, ctx.day)!;
  const low = slot[0].band_lo[slot[1]]!;
  if (ahead.hi >= low - (in_danger(ctx, id) ? 0 : ctx.rule("band_slack_x100"))) return null;
  return { code: "condition_ahead_low", args: { from: ahead.from, x100: ahead.x100, low, on: ahead.on } };
}
