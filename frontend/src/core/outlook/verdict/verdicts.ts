import { div } from "../../base/ints.ts";
import { pen_on } from "../../state/where.ts";
import { add, blank_feeds, day_sums, enough_days, no_sums, permille, window } from "../balance/balance.ts";
import { days_between, NUTRIENTS, shift, type Context } from "../ground/context.ts";
import { energy_state, planned_state } from "./energy.ts";
import { has_plan } from "../feeding/plan.ts";
import { band_of, sure } from "../balance/surety.ts";
import { AHEAD_D, CALCIUM_HOLD_PM, CALCIUM_LATE_D, THREE_D, WEEK_D } from "../../tables/numbers.ts";
import { CHOICES } from "../../tables/rules_offered.ts";
import type { DoeResult, Fed, Nutrient, NutrientLine, State, Window } from "../ground/shapes.ts";

/** Where each nutrient stands and where it is heading. */
const { hold: HOLD, lower: VETS_RULE } = CHOICES.calcium_before_kidding;

type Lines = Record<string, NutrientLine>;

/** Over the week with the three-day ratio, the state, and, of those in `ahead`, the date it leaves its band. */
export function lines_for(ctx: Context, id: string, ahead = NUTRIENTS): Lines {
  const [week, three] = [window(ctx, id, WEEK_D), window(ctx, id, THREE_D)];
  const known = enough_days(ctx, week);
  const lines: Lines = {};
  for (const key of NUTRIENTS) lines[key] = line_of(ctx, id, key, week, three, known);
  lines["me"]!.loss_g_d = loss(ctx, week);
  lines["ca"]!.per_p_x100 = week.got.p ? div(week.got.ca * 100, week.got.p) : 0;
  lines["ca"]!.of = own_calcium(ctx, id, week) ? "doe" : "pen";
  look_ahead(ctx, id, lines, week, ahead);
  return lines;
}

/** One nutrient by itself, as `lines_for` has it. */
export function line_for(ctx: Context, id: string, key: Nutrient): NutrientLine {
  const week = window(ctx, id, WEEK_D);
  const line = line_of(ctx, id, key, week, window(ctx, id, THREE_D), enough_days(ctx, week));
  const planned = has_plan(ctx, id, ctx.day) || has_plan(ctx, id, shift(ctx.day, AHEAD_D));
  return { ...line, ahead: planned ? leaves_band(ctx, id, key, week) : null };
}

function line_of(ctx: Context, id: string, key: Nutrient, week: Window, three: Window, known: boolean): NutrientLine {
  const { days } = week;
  const ratio = (sums: Window) => (sums.days ? permille(sums.got[key], sums.need[key]) : 0);
  const [pm, pm3] = [ratio(week), ratio(three)];
  const high = days ? permille(week.got[key] + week.extra[key], week.need[key]) : 0;
  let st: State = known ? state_of(ctx, id, key, week, pm, ctx.day) : "unknown";
  if (known && high !== pm && st !== state_of(ctx, id, key, week, high, ctx.day)) st = "unknown";
  const band = band_of(ctx, key, week);
  return {
    need: week.need[key], got: week.got[key], days, pm, pm3, st, at_least: week.extra[key] > 0, ahead: null,
    lo: band[0], hi: band[1], sure: sure(st, band), blank: blank_feeds(ctx, week, key),
  };
}

/** Fibre (NDF) per kg dry matter and forage a day over the week; low when even the most it could be is low. */
export function fibre_line(ctx: Context, id: string): DoeResult["fibre"] {
  const week = window(ctx, id, WEEK_D);
  const known = enough_days(ctx, week) && week.dm > 0;
  const ndf_pm = week.dm ? div(week.ndf_g * 1000, week.dm) : 0;
  const st = !known ? "unknown" : ndf_pm < ctx.rule("ndf_low_pm") ? "low" : "level";
  return { ndf_pm, forage_g: div(week.forage_g, Math.max(1, week.days)), st };
}

function loss(ctx: Context, week: Window): number {
  const gap = Math.max(0, week.need.me - week.got.me - week.extra.me);
  return week.days ? div(div(gap * 1000, ctx.rule("loss_kj_per_kg")), week.days) : 0;
}

/** Her own verdict only where enough of her feed is hers alone, or she is alone in the pen. */
export function own_calcium(ctx: Context, id: string, week: Window): boolean {
  const alone = ctx.pen_mates(pen_on(ctx.doe(id), ctx.day), ctx.day).length <= 1;
  return alone || week.own * 1000 >= week.dm * ctx.rule("own_share_pm");
}

/** The state of one nutrient at a ratio, by the herd rules for her day and lane. */
export function state_of(ctx: Context, id: string, key: Nutrient, sums: Fed, pm: number, on: string): State {
  if (key === "me") return energy_state(ctx, id, sums, pm, on);
  if (key === "ca") return calcium_state(ctx, id, sums, pm, on);
  return pm < 1000 - ctx.rule(key === "cp" ? "protein_pm" : "calcium_pm") ? "short" : "level";
}

/** Near her earliest due date. */
export function late_calcium(ctx: Context, id: string, on: string): boolean {
  const due = ctx.doe(id).bred ? ctx.outlooks[id]!.due : null;
  return due !== null && days_between(on, due.early) <= CALCIUM_LATE_D;
}

/** Never sharper than the rule's band; in the last weeks by the herd's pre-kidding rule, and over far above need. */
export function calcium_state(ctx: Context, id: string, sums: Fed, pm: number, on: string): State {
  const [late, rule] = [late_calcium(ctx, id, on), ctx.rule_or_ours("calcium_before_kidding")];
  const tight = late && rule !== VETS_RULE;
  if (pm < 1000 - ctx.rule(tight ? "calcium_late_pm" : "calcium_pm")) return "short";
  const rich = rule === VETS_RULE || dense(sums.got.ca, sums.dm) > ctx.rule("calcium_dense_ug_g");
  const most = rule === HOLD ? CALCIUM_HOLD_PM : 1000 + ctx.rule("calcium_pm");
  return late && rich && pm > most ? "over" : "level";
}

/** Micrograms per gram of dry matter; 0 when nothing was eaten. */
export function dense(mg: number, dm_g: number): number {
  return dm_g ? div(mg * 1000, dm_g) : 0;
}

/** Along the adopted plan, the first date on which a nutrient leaves its band for two days running. */
function look_ahead(ctx: Context, id: string, lines: Lines, week: Window, keys: readonly Nutrient[]): void {
  if (!has_plan(ctx, id, ctx.day) && !has_plan(ctx, id, shift(ctx.day, AHEAD_D))) return;
  for (const key of keys) lines[key]!.ahead = leaves_band(ctx, id, key, week);
}

function leaves_band(ctx: Context, id: string, key: Nutrient, week: Window): NutrientLine["ahead"] {
  let run: State | "" = "";
  for (let k = 1; k <= AHEAD_D; k++) {
    const on = shift(ctx.day, k);
    const sums = day_sums(ctx, id, on, true);
    const state = sums ? day_state(ctx, id, key, sums, on, week) : "level";
    if (state === "level" || state === "unknown") run = "";
    else if (run === state) return { st: state, on: shift(on, -1) };
    else run = state;
  }
  return null;
}

/** State of one planned day; unknown when composition we do not have could change it. */
export function day_state(ctx: Context, id: string, key: Nutrient, sums: Fed, on: string, week: Window): State {
  const state = planned(ctx, id, key, sums, on, week);
  if (sums.extra[key]) {
    const more = { ...sums, got: { ...sums.got, [key]: sums.got[key] + sums.extra[key] } };
    if (state !== planned(ctx, id, key, more, on, week)) return "unknown";
  }
  const held = ctx.rule_or_ours("calcium_before_kidding") !== VETS_RULE;
  if (key === "ca" && held && late_calcium(ctx, id, on) && week.days) {
    // per dry matter, so that a fall in appetite alone is no swing
    const usual = dense(week.got.ca, week.dm);
    const swings = dense(sums.got.ca, sums.dm) * 1000 < usual * (1000 - ctx.rule("calcium_pm"));
    if (swings && permille(sums.got.ca, sums.need.ca) < ctx.rule("calcium_swing_pm")) return "short";
  }
  return state;
}

function planned(ctx: Context, id: string, key: Nutrient, sums: Fed, on: string, week: Window): State {
  if (key === "me") return planned_state(ctx, id, sums, on, week);
  return state_of(ctx, id, key, sums, permille(sums.got[key], sums.need[key]), on);
}

/** The shared feeder's verdict: calcium eaten by the whole pen against what its does need. */
export function pen_calcium(ctx: Context, does: string[]): State {
  const total = no_sums();
  const weeks = does.map((id) => window(ctx, id, WEEK_D)).filter((week) => enough_days(ctx, week));
  if (weeks.length === 0) return "unknown";
  for (const week of weeks) add(total, week);
  const pm = permille(total.got.ca, total.need.ca);
  const high = permille(total.got.ca + total.extra.ca, total.need.ca);
  const low = 1000 - ctx.rule("calcium_pm");
  if (pm < low && low <= high) return "unknown";
  return pm < low ? "short" : "level";
}
