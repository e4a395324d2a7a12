import { days_between, type Context } from "./context.ts";
import { is_grain } from "./feed_classes.ts";
import { CLOSE, stage_of } from "./off_feed_stage.ts";
import { grain_planned } from "./plan.ts";
import type { Said } from "./shapes.ts";
import { PHASE } from "../tables/codes.ts";
import { GRAIN_OUT_D, GRAIN_OUT_FORGOTTEN_D } from "../tables/numbers.ts";

/**
 * Grain that was taken out and never came back, at the time a doe can least do without it.
 */
const PHASES = new Set<number>([PHASE.close_up, PHASE.kidding_watch, PHASE.fresh]);

/** One day without grain is what a freeze is for. A freeze long past says nothing about today. */
export function frozen_out_word(ctx: Context, id: string, phase: number): Said | null {
  const held = ctx.doe(id).freeze;
  const near = phase >= 0 ? PHASES.has(phase) : CLOSE.has(stage_of(ctx, id));
  if (held === null || !near || held.since > ctx.day || !had_grain(ctx, id)) return null;
  if (held.until < ctx.day && days_between(held.until || held.since, ctx.day) > GRAIN_OUT_FORGOTTEN_D) return null;
  const on = held.out_on || held.since;
  const days = days_between(on, ctx.day);
  return days <= GRAIN_OUT_D || grain_planned(ctx, id, ctx.day) ? null : { code: "frozen_out", args: { on, days } };
}

/** Some of it stands in her plan, or the herd's rules would give her some by now. */
function had_grain(ctx: Context, id: string): boolean {
  const own = (ctx.plans.get(id) ?? []).filter(({ feed }) => is_grain(ctx.feed(feed)));
  const rule = ctx.outlooks[id]?.steps ?? [];
  return own.some(({ steps }) => steps.some(([, g]) => g > 0)) || rule.some(({ on }) => on <= ctx.day);
}
