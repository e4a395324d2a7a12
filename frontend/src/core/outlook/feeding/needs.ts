import { div, isqrt, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { pen_on } from "../../state/where.ts";
import { is_buck, slot_for } from "../ground/branches.ts";
import { days_between, per_nutrient, type Context } from "../ground/context.ts";
import type { Branch, Season } from "../ground/documents.ts";
import type { LastScore, PerNutrient } from "../ground/shapes.ts";
import { MILK_RECENT_D, SCORES_APART_D, SCORES_HELD } from "../../tables/numbers.ts";

/** Milk, appetite and need of one doe on one date, by the outlook's linear drivers. */
/** Grams of milk: weighed that day, or the last weighing carried along her expected curve, or the curve itself. */
export function milk_on(ctx: Context, id: string, on: string): number {
  return ctx.memo.milk.once(id, on, () => find_milk(ctx, id, on));
}

function find_milk(ctx: Context, id: string, on: string): number {
  const expected = expected_milk(ctx, id, on);
  const weighed = milk_days(ctx, id);
  const near = [...weighed.keys()].filter((day) => day <= on && days_between(day, on) <= MILK_RECENT_D).at(-1);
  if (near === undefined) return expected;
  if (on > ctx.day) return ahead_of(ctx, id, expected);
  const uncut = uncut_milk(ctx, id, on);
  if (!uncut) return expected;
  const then = uncut_milk(ctx, id, near);
  return then ? div(weighed.get(near)! * uncut, then) : weighed.get(near)!;
}

/** A day ahead: what she gives today goes down as the herd's plan does from here. */
function ahead_of(ctx: Context, id: string, expected: number): number {
  const planned = expected_milk(ctx, id, ctx.day);
  return planned ? div(milk_on(ctx, id, ctx.day) * expected, planned) : expected;
}

/** Her curve as if no milking were cut: the herd's dry-off day is a plan, and what was weighed since it is not. */
function uncut_milk(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  const { as_is, open } = ctx.outlooks[id]?.branches ?? {};
  if (slot === null || !open || slot[0] !== as_is) return expected_milk(ctx, id, on);
  return open.milk_g[slot[1]]!;
}

function expected_milk(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  return slot ? slot[0].milk_g[slot[1]]! : 0;
}

/** Grams of weighed days in order; today counts only once it has as many milkings as the day before. */
export function milk_days(ctx: Context, id: string): Map<string, number> {
  return ctx.memo.weighed.once(id, "", () => find_milk_days(ctx, id));
}

function find_milk_days(ctx: Context, id: string): Map<string, number> {
  const days = new Map<string, number[]>();
  for (const [on, g] of ctx.doe(id).milks) if (on <= ctx.day) days.set(on, [...(days.get(on) ?? []), g]);
  const sorted = [...days.keys()].sort(compareText);
  const before = sorted.filter((day) => day < ctx.day).at(-1);
  const today = days.get(ctx.day);
  if (today && before !== undefined && today.length < days.get(before)!.length) days.delete(ctx.day);
  return new Map(sorted.filter((day) => days.has(day)).map((day) => [day, sum(days.get(day)!)]));
}

/** Whether some of her milk was weighed so near before a date that it still tells. */
export function milk_weighed(ctx: Context, id: string, on: string): boolean {
  return [...milk_days(ctx, id).keys()].some((day) => day <= on && days_between(day, on) <= MILK_RECENT_D);
}

/** Grams of fat-corrected milk. */
export function fcm_on(ctx: Context, id: string, on: string): number {
  return div(milk_on(ctx, id, on) * ctx.outlooks[id]!.drivers.fcm_pm, 1000);
}

/** Grams of dry matter she can be expected to eat: branch, else the season's own history, else 0. */
export function appetite_on(ctx: Context, id: string, on: string): number {
  return ctx.memo.appetite.once(id, on, () => find_appetite(ctx, id, on));
}

function find_appetite(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return season_value(ctx, id, on, "appetite_g");
  const per_kg = ctx.outlooks[id]!.drivers.appetite_g_per_kg_fcm;
  return slot[0].appetite_g[slot[1]]! + div(fcm_on(ctx, id, on) * per_kg, 1000);
}

/** A figure of her compiled season on a date; 0 outside. */
export function season_value(ctx: Context, id: string, on: string, name: Exclude<keyof Season, "day0">): number {
  const season = ctx.outlooks[id]?.season;
  if (!season || season.me_kj.length === 0 || is_buck(ctx.doe(id))) return 0;
  return season[name][days_between(season.day0, on)] ?? 0;
}

/** Energy (kJ), protein, calcium and phosphorus (mg) needed on a date, at a dry-matter intake. */
export function need_on(ctx: Context, id: string, on: string, dm_g: number): PerNutrient | null {
  const dry = ctx.memo.need_dry.once(id, on, () => find_need(ctx, id, on));
  if (dry === null) return null;
  const { cp_mg_per_kg_dm, ca_mg_per_kg_dm, p_mg_per_kg_dm } = ctx.outlooks[id]!.drivers;
  const of_dm = (mg: number) => div(dm_g * mg, 1000);
  return {
    me: dry.me, cp: dry.cp + of_dm(cp_mg_per_kg_dm), ca: dry.ca + of_dm(ca_mg_per_kg_dm),
    p: dry.p + of_dm(p_mg_per_kg_dm),
  };
}

/** Whatever she eats. */
function find_need(ctx: Context, id: string, on: string): PerNutrient | null {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return null;
  const [branch, i] = slot;
  const { drivers } = ctx.outlooks[id]!;
  const milk = milk_on(ctx, id, on);
  const need = per_nutrient();
  const abroad = div(branch.maint_kj[i]! * (activity_pm(ctx, id, on) + cold_pm(ctx, on)), 1000);
  need.me = branch.me_kj[i]! + milk_kj(ctx, id, on) + abroad + regain_kj(ctx, id, branch, i);
  for (const key of ["cp", "ca", "p"] as const) {
    const of_milk = div(milk * drivers[`${key}_mg_per_kg_milk`], 1000);
    need[key] = branch[`${key}_mg`][i]! + of_milk;
  }
  return need;
}

function milk_kj(ctx: Context, id: string, on: string): number {
  return div(fcm_on(ctx, id, on) * ctx.outlooks[id]!.drivers.me_kj_per_kg_fcm, 1000);
}

/** What her pen's ground adds to maintenance, permille: the pen's own figure above that of a pen indoors. */
export function activity_pm(ctx: Context, id: string, on: string): number {
  const own = ctx.view.pens[pen_on(ctx.doe(id), on)]?.f["activity_pm"];
  return typeof own === "number" ? Math.max(0, own - 1000) : 0;
}

/** What the day's cold adds to maintenance, permille, by the last weather recorded for the date; capped. */
export function cold_pm(ctx: Context, on: string): number {
  let share = 0;
  for (const [day, low_c, wet] of ctx.view.weather) {
    if (day !== on) continue;
    const below = ctx.rule(wet ? "cold_wet_from_c" : "cold_from_c") - low_c;
    share = Math.min(Math.max(0, below) * ctx.rule("cold_pm_per_c"), ctx.rule("cold_cap_pm"));
  }
  return share;
}

/** One standard deviation of her energy need on a date, kJ: what is not known of her, and of her milk. */
export function need_sd_on(ctx: Context, id: string, on: string): number {
  return ctx.memo.need_sd.once(id, on, () => find_need_sd(ctx, id, on));
}

function find_need_sd(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return 0;
  const near = milk_weighed(ctx, id, on);
  const of_milk = div(milk_kj(ctx, id, on) * ctx.rule(near ? "milk_weighed_sd_pm" : "milk_expected_sd_pm"), 1000);
  const of_score = score_sd_kj(ctx, id, ...slot);
  return isqrt(slot[0].me_sd_kj[slot[1]]! ** 2 + of_milk * of_milk + of_score * of_score);
}

/** What one scorer's hand may be off, as energy a day, where she is fed to regain. */
export function score_sd_kj(ctx: Context, id: string, branch: Branch, i: number): number {
  if (!regain_kj(ctx, id, branch, i)) return 0;
  return div(ctx.rule("score_sd_x100") * ctx.outlooks[id]!.drivers.me_kj_per_point, ctx.rule("regain_days"));
}

/** Daily energy to bring a thin doe back to the foot of her band over the herd rule's days. */
export function regain_kj(ctx: Context, id: string, branch: Branch, i: number): number {
  const score = last_score(ctx, id);
  const gap = score ? branch.band_lo[i]! - score.x100 : 0;
  if (gap <= 0) return 0;
  return div(gap * ctx.outlooks[id]!.drivers.me_kj_per_point, ctx.rule("regain_days"));
}

export function last_score(ctx: Context, id: string): LastScore | null {
  return ctx.memo.scores.once(id, ctx.day, () => find_last(ctx, id));
}

function find_last(ctx: Context, id: string): LastScore | null {
  const scores = ctx.doe(id).scores.filter(([on]) => on <= ctx.day);
  const last = scores.at(-1);
  if (last === undefined) return null;
  const [on, x100] = last;
  const near = scores.filter((row) => days_between(row[0], on) <= SCORES_APART_D).map((row) => row[1]);
  return { age_d: days_between(on, ctx.day), x100, fell: fell(near), trend: near.length > 1 };
}

/** From where it began to go down without a rise between, small steps added up; a rise is that since the last. */
function fell(near: number[]): number {
  const [x100, before = x100] = near.slice(-2).reverse() as [number, number?];
  if (before <= x100) return before - x100;
  let from = near.length - 2;
  while (from > 0 && near[from - 1]! >= near[from]!) from -= 1;
  return near[from]! - x100;
}

/** Her last score while it still says how she is. */
export function held_score(ctx: Context, id: string): LastScore | null {
  const score = last_score(ctx, id);
  return score && score.age_d <= ctx.rule("score_holds_d") ? score : null;
}

/** Her last few scores, not too far apart, all lie under a score and the last not above the first. */
export function held_through(ctx: Context, id: string, below: number): boolean {
  const scores = ctx.doe(id).scores.filter(([on]) => on <= ctx.day).slice(-SCORES_HELD);
  const [first, last] = [scores[0], scores[SCORES_HELD - 1]];
  if (!first || !last || days_between(first[0], last[0]) > SCORES_APART_D) return false;
  return scores.every((row) => row[1] < below) && last[1] <= first[1];
}
