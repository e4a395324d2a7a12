import { eaten_on, enough_days, part_of, permille, window } from "../balance/balance.ts";
import { days_between, type Context } from "../ground/context.ts";
import {
  draws,
  feeder_mates,
  her_state,
  legume_of,
  thin_late,
  type HerState,
  type Legume,
} from "../balance/her_state.ts";
import { last_score, milk_days } from "../feeding/needs.ts";
import type { DoeResult, NutrientLine, Said, Window } from "../ground/shapes.ts";
import { MILK_WEIGHED_D, WEEK_D } from "../../tables/numbers.ts";

/** Calcium, protein and phosphorus in words that fit her state; where sums alone cannot settle it, what would. */

export function calcium_word(ctx: Context, id: string, { lines }: DoeResult): Said | null {
  const { st, pm } = lines["ca"]!;
  if (st !== "short" && (st !== "over" || spared(ctx, id, lines))) return null;
  return { code: `calcium_${st}`, args: { pm, ...fitting(ctx, id) } };
}

export function calcium_ahead(ctx: Context, id: string, { lines }: DoeResult): Said | null {
  const { st, ahead } = lines["ca"]!;
  if (!ahead || st !== "level") return null;
  const { on } = ahead;
  const args = { on, ...fitting(ctx, id) };
  if (ahead.st === "short") return { code: "calcium_heading_short", args: { ...args, cause: why_short(ctx, id, on) } };
  return spared(ctx, id, lines) ? null : { code: "calcium_heading_over", args };
}

function fitting(ctx: Context, id: string): { state: HerState; legume: Legume } {
  return { state: her_state(ctx, id), legume: legume_of(ctx, id) };
}

/** Nothing rich is taken from a doe that is short of energy or thin near kidding, nor from a thin one's feeder. */
function spared(ctx: Context, id: string, lines: DoeResult["lines"]): boolean {
  if (lines["me"]!.st === "short") return true;
  return (lines["ca"]!.of === "pen" ? feeder_mates(ctx, id) : [id]).some((mate) => thin_late(ctx, mate));
}

/** The plan takes calcium away, or it stays and her need climbs or her appetite falls. */
function why_short(ctx: Context, id: string, on: string): "plan" | "need" {
  return offered_ca(ctx, id, on) * 1000 < offered_ca(ctx, id, ctx.day) * (1000 - ctx.rule("cut_pm")) ? "plan" : "need";
}

function offered_ca(ctx: Context, id: string, on: string): number {
  const { offered } = eaten_on(ctx, id, on, true);
  return Object.entries(offered).reduce((all, [feed, g]) => all + part_of(ctx, feed, "ca", g), 0);
}

export function protein_word(ctx: Context, id: string, { lines, gest }: DoeResult): Said | null {
  const [line, state] = [lines["cp"]!, her_state(ctx, id)];
  if (line.st !== "short" || !draws(state) || eats_less(ctx, lines, line, gest)) return null;
  const milks = state === "milk" || state === "fresh";
  if (milks && !lasts(ctx, id)) return null;
  return { code: "protein_short", args: { pm: line.pm, state, ask: asks(ctx, id, "cp_ug_g", state) } };
}

export function phosphorus_word(ctx: Context, id: string, { lines, gest }: DoeResult): Said | null {
  const [line, state] = [lines["p"]!, her_state(ctx, id)];
  // hay differs so much that less than this says nothing
  if (line.st !== "short" || line.hi >= 1000 || !draws(state) || eats_less(ctx, lines, line, gest)) return null;
  return { code: "phosphorus_short", args: { pm: line.pm, state, ask: asks(ctx, id, "p_ug_g", state) } };
}

/** Short the week before as well: in milk a week says little, and fresh she eats less than she gives. */
function lasts(ctx: Context, id: string): boolean {
  const before = window(ctx, id, WEEK_D, WEEK_D);
  return enough_days(ctx, before) && permille(before.got.cp, before.need.cp) < 1000 - ctx.rule("protein_pm");
}

/** Late and no shorter than her energy, it is her appetite that falls, not the feed that is poor. */
function eats_less(ctx: Context, lines: DoeResult["lines"], { pm }: NutrientLine, gest: number): boolean {
  return gest >= ctx.rule("late_day") && pm >= lines["me"]!.pm;
}

type Asked = "hay" | "milk" | "score" | "";

/** The reading that would settle it: the hay she eats most of, then her milk, then a hand on her. */
function asks(ctx: Context, id: string, figure: "cp_ug_g" | "p_ug_g", state: string): Asked {
  const week = window(ctx, id, WEEK_D);
  if (!tested(ctx, week, figure)) return "hay";
  const milked = [...milk_days(ctx, id).keys()].at(-1);
  if ((state === "milk" || state === "fresh") && (!milked || days_between(milked, ctx.day) > MILK_WEIGHED_D))
    return "milk";
  const score = figure === "cp_ug_g" ? last_score(ctx, id) : { age_d: 0 };
  return score === null || score.age_d > ctx.rule("score_fresh_d") ? "score" : "";
}

/** Whether what she eats most of has its own figure, and not that of the feed it is like. */
function tested(ctx: Context, { dm_by }: Window, figure: "cp_ug_g" | "p_ug_g"): boolean {
  const most = Object.entries(dm_by).sort(([, a], [, b]) => b - a)[0]?.[0] ?? "";
  const row = ctx.view.lots[most] ?? ctx.view.feeds[most];
  return row !== undefined && row.f[FIELD[figure]] !== undefined && row.f[FIELD[figure]] !== null;
}

const FIELD = { cp_ug_g: "cp_pct_x10", p_ug_g: "p_pct_x100" } as const;
