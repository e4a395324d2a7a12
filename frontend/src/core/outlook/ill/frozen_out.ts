import { eaten_on } from "../balance/balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { CLOSE, stage_of } from "./off_feed_stage.ts";
import { grain_planned } from "../feeding/plan.ts";
import type { Said } from "../ground/shapes.ts";
import { PHASE } from "../../tables/codes.ts";
import { GRAIN_OUT_D, GRAIN_OUT_FORGOTTEN_D, WEEK_D } from "../../tables/numbers.ts";

/**
 * Grain that was taken out and never came back, at the time a doe can least do without it.
 */
const PHASES = new Set<number>([PHASE.close_up, PHASE.kidding_watch, PHASE.fresh]);

/** One day without grain is what a freeze is for. A freeze long past says nothing about today. */
export function frozen_out_word(ctx: Context, id: string, phase: number): Said | null {
  const held = ctx.doe(id).freeze;
  const near = phase >= 0 ? PHASES.has(phase) : CLOSE.has(stage_of(ctx, id));
  if (held === null || !near || held.since > ctx.day ) return null;
  if (held.until < ctx.day && days_between(held.until || held.since, ctx.day) > GRAIN_OUT_FORGOTTEN_D) return null;
  const on = held.out_on || held.since;
  const days = days_between(on, ctx.day);
  const what = taken(ctx, id, on);
  if (!what || days <= GRAIN_OUT_D || grain_planned(ctx, id, ctx.day)) return null;
  const state = ctx.doe(id).kidded && !ctx.doe(id).bred ? "fresh" : "late";
  return { code: "frozen_out", args: { on, days, state, what } };
}

/** Grain to give again, or a first step of her own plan that never came; the herd rules' steps are neither. */
function taken(ctx: Context, id: string, since: string): "again" | "first" | "" {
  const own = (ctx.plans.get(id) ?? []).filter(({ feed }) => is_grain(ctx.feed(feed)));
  const given = own.flatMap(({ steps }) => steps).filter(([, g]) => g > 0);
  const fed = () => Array.from({ length: WEEK_D }, (_, k) => shift(since, -1 - k));
  if (given.some(([on]) => on < since) || fed().some((on) => eaten_on(ctx, id, on).day_g > 0)) return "again";
  return given.length ? "first" : "";
}
