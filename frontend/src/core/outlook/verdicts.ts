import { div } from "../ints.ts";
import { add, blank_feeds, day_sums, enough_days, gestation_on, no_sums, permille, window } from "./balance.ts";
import { slot_for, type Slot } from "./branches.ts";
import { days_between, NUTRIENTS, shift, type Context } from "./context.ts";
import { last_score, type LastScore } from "./needs.ts";
import { has_plan } from "./plan.ts";
import { energy_band, spread, sure } from "./surety.ts";
import type { DoeResult, Nutrient, NutrientLine, State, Sums, Window } from "./shapes.ts";
import { witness } from "./witness.ts";

/** Where each nutrient stands and where it is heading. Twin of herd/outlook/verdicts.py. */
const AHEAD_D = 14;
const LATE_CALCIUM_D = 28;
const FRESH = 8;
/** The herd's calcium rule before kidding; 0 is to need. */
const [HOLD, VETS_RULE, HOLD_MOST_PM] = [1, 2, 3000];
const BANDS = { cp: "cp_band_pm", ca: "mineral_band_pm", p: "mineral_band_pm" };

type Lines = Record<string, NutrientLine>;
type Judged = Sums & { days: number };

/** Over seven days with the three-day ratio, the state, and the date it leaves its band. */
export function lines_for(ctx: Context, id: string): Lines {
  const [week, three] = [window(ctx, id, 7), window(ctx, id, 3)];
  const known = enough_days(ctx, week);
  const lines: Lines = {};
  for (const key of NUTRIENTS) lines[key] = line_of(ctx, id, key, week, three, known);
  lines["me"]!.loss_g_d = loss(ctx, week);
  lines["ca"]!.per_p_x100 = week.got.p ? div(week.got.ca * 100, week.got.p) : 0;
  lines["ca"]!.of = own_calcium(ctx, id, week) ? "doe" : "pen";
  look_ahead(ctx, id, lines, week);
  return lines;
}

function line_of(ctx: Context, id: string, key: Nutrient, week: Window, three: Window, known: boolean): NutrientLine {
  const { days } = week;
  const ratio = (sums: Window) => (sums.days ? permille(sums.got[key], sums.need[key]) : 0);
  const [pm, pm3] = [ratio(week), ratio(three)];
  const high = days ? permille(week.got[key] + week.extra[key], week.need[key]) : 0;
  let st: State = known ? state_of(ctx, id, key, week, pm, ctx.day) : "unknown";
  if (known && high !== pm && st !== state_of(ctx, id, key, week, high, ctx.day)) st = "unknown";
  const band = key === "me" ? energy_band(ctx, week) : spread(pm, ctx.rule(BANDS[key]));
  return {
    need: week.need[key], got: week.got[key], days, pm, pm3, st, at_least: week.extra[key] > 0, ahead: null,
    lo: band[0], hi: band[1], sure: sure(st, band), blank: blank_feeds(ctx, week, key),
  };
}

/** Fibre (NDF) per kg dry matter and forage a day over seven days; low when even the most it could be is low. */
export function fibre_line(ctx: Context, id: string): DoeResult["fibre"] {
  const week = window(ctx, id, 7);
  const known = enough_days(ctx, week) && week.dm > 0;
  const ndf_pm = week.dm ? div(week.ndf_g * 1000, week.dm) : 0;
  const st = !known ? "unknown" : ndf_pm < ctx.rule("ndf_low_pm") ? "low" : "level";
  return { ndf_pm, forage_g: div(week.forage_g, Math.max(1, week.days)), st };
}

function loss(ctx: Context, week: Window): number {
  const gap = Math.max(0, week.need.me - week.got.me);
  return week.days ? div(div(gap * 1000, ctx.rule("loss_kj_per_kg")), week.days) : 0;
}

/** Her own verdict only where enough of her feed is hers alone, or she is alone in the pen. */
export function own_calcium(ctx: Context, id: string, week: Window): boolean {
  const alone = ctx.pen_mates(ctx.doe(id).pen, ctx.day).length <= 1;
  return alone || week.own * 1000 >= week.dm * ctx.rule("own_share_pm");
}

/** The state of one nutrient at a ratio, by the herd rules for her day and lane. */
export function state_of(ctx: Context, id: string, key: Nutrient, sums: Judged, pm: number, on: string): State {
  if (key === "me") return energy_state(ctx, id, sums, pm, on);
  if (key === "ca") return calcium_state(ctx, id, sums, pm, on);
  return pm < 1000 - ctx.rule(key === "cp" ? "protein_pm" : "calcium_pm") ? "short" : "level";
}

/** Late: short only below the floor she can eat to. Before: the band, wider where a fresh score says she holds. */
export function energy_state(ctx: Context, id: string, sums: Judged, pm: number, on: string): State {
  const slot = slot_for(ctx, id, on);
  const floor = slot ? slot[0].floor_me_kj[slot[1]]! : 0;
  if (gestation_on(ctx, id, on) >= ctx.rule("late_day") && floor) {
    return sums.got.me < floor * Math.max(1, sums.days) ? "short" : "level";
  }
  const score = last_score(ctx, id);
  const held = score !== null && score.age_d <= ctx.rule("score_holds_d") ? score : null;
  if (pm < 1000 - ctx.rule("level_pm")) return spared_short(ctx, slot, held, pm) ? "level" : "short";
  if (pm > 1000 + ctx.rule("level_pm")) return spared_over(ctx, slot, held, pm) ? "level" : "over";
  return "level";
}

function spared_short(ctx: Context, slot: Slot | null, held: LastScore | null, pm: number): boolean {
  const fresh = fresh_doe(slot);
  const slack = ctx.rule(fresh ? "fresh_slack_pm" : "slight_under_pm");
  const holds = held !== null && held.x100 >= ctx.rule("score_thin_x100") && held.fell < ctx.rule("score_fell_x100");
  return (fresh || holds) && pm >= 1000 - slack;
}

function spared_over(ctx: Context, slot: Slot | null, held: LastScore | null, pm: number): boolean {
  const holds = held !== null && slot !== null && held.x100 <= slot[0].band_hi[slot[1]]!;
  return holds && held.fell > -ctx.rule("score_fell_x100") && pm <= 1000 + ctx.rule("over_hold_pm");
}

function fresh_doe(slot: Slot | null): boolean {
  return slot !== null && slot[0].phase[slot[1]] === FRESH;
}

/** Within 28 days of her earliest due date. */
export function late_calcium(ctx: Context, id: string, on: string): boolean {
  const due = ctx.doe(id).bred ? ctx.outlooks[id]!.due : null;
  return due !== null && days_between(on, due.early) <= LATE_CALCIUM_D;
}

/** Never sharper than the rule's band; in the last 28 days by the herd's pre-kidding rule, and over far above need. */
export function calcium_state(ctx: Context, id: string, sums: Judged, pm: number, on: string): State {
  const [late, rule] = [late_calcium(ctx, id, on), ctx.rules["calcium_before_kidding"] ?? 0];
  const tight = late && rule !== VETS_RULE;
  if (pm < 1000 - ctx.rule(tight ? "calcium_late_pm" : "calcium_pm")) return "short";
  const rich = rule === VETS_RULE || dense(sums.got.ca, sums.dm) > ctx.rule("calcium_dense_ug_g");
  const most = rule === HOLD ? HOLD_MOST_PM : 1000 + ctx.rule("calcium_pm");
  return late && rich && pm > most ? "over" : "level";
}

/** Micrograms per gram of dry matter; 0 when nothing was eaten. */
export function dense(mg: number, dm_g: number): number {
  return dm_g ? div(mg * 1000, dm_g) : 0;
}

/** Along the adopted plan, the first date on which a nutrient leaves its band for two days running. */
export function look_ahead(ctx: Context, id: string, lines: Lines, week: Window): void {
  if (!has_plan(ctx, id, ctx.day) && !has_plan(ctx, id, shift(ctx.day, AHEAD_D))) return;
  for (const key of NUTRIENTS) lines[key]!.ahead = leaves_band(ctx, id, key, week);
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
export function day_state(ctx: Context, id: string, key: Nutrient, sums: Sums, on: string, week: Window): State {
  const one = { ...sums, days: 1 };
  const pm = permille(sums.got[key], sums.need[key]);
  const state = state_of(ctx, id, key, one, pm, on);
  const doubted = key === "me" && (state === "short" || state === "over") && !is_late(ctx, id, on);
  if (doubted && !agreed(ctx, week, pm, state)) return "level";
  if (sums.extra[key]) {
    const more = { ...one, got: { ...sums.got, [key]: sums.got[key] + sums.extra[key] } };
    if (state !== state_of(ctx, id, key, more, permille(more.got[key], sums.need[key]), on)) return "unknown";
  }
  const held = (ctx.rules["calcium_before_kidding"] ?? 0) !== VETS_RULE;
  if (key === "ca" && held && late_calcium(ctx, id, on) && week.days) {
    // per dry matter, so that a fall in appetite alone is no swing
    const usual = dense(week.got.ca, week.dm);
    const swings = dense(sums.got.ca, sums.dm) * 1000 < usual * (1000 - ctx.rule("calcium_pm"));
    if (swings && pm < ctx.rule("calcium_swing_pm")) return "short";
  }
  return state;
}

function is_late(ctx: Context, id: string, on: string): boolean {
  return gestation_on(ctx, id, on) >= ctx.rule("late_day");
}

/** Whether the week's doubt, laid about a planned day's ratio, leaves the state standing. */
function agreed(ctx: Context, week: Window, pm: number, state: State): boolean {
  const now = week.days ? permille(week.got.me, week.need.me) : 0;
  if (now <= 0) return false;
  const [lo, hi] = energy_band(ctx, week);
  return sure(state, [div(lo * pm, now), div(hi * pm, now)]);
}

/** The shared feeder's verdict: calcium eaten by the whole pen against what its does need. */
export function pen_calcium(ctx: Context, does: string[]): State {
  const total = no_sums();
  const weeks = does.map((id) => window(ctx, id, 7)).filter((week) => enough_days(ctx, week));
  if (weeks.length === 0) return "unknown";
  for (const week of weeks) add(total, week);
  const pm = permille(total.got.ca, total.need.ca);
  const high = permille(total.got.ca + total.extra.ca, total.need.ca);
  const low = 1000 - ctx.rule("calcium_pm");
  if (pm < low && low <= high) return "unknown";
  return pm < low ? "short" : "level";
}

/**
 * The prompt the energy line calls for: "", "short", "over", "heading_short", "heading_over" or "score_her".
 * From the late day on a short line needs a witness besides the sums; without one an old score asks for a new one.
 */
export function energy_word(ctx: Context, id: string, { st, ahead, sure: certain }: NutrientLine): string {
  const now = st === "short" || st === "over";
  if (!now && !(ahead && st === "level")) return "";
  const word = now ? st : ahead!.st;
  const late = gestation_on(ctx, id, now ? ctx.day : ahead!.on) >= ctx.rule("late_day");
  const unsure = now && !certain;
  if (word === "over") return late || unsure ? "" : now ? "over" : "heading_over";
  if ((late || unsure) && !witness(ctx, id)) {
    const score = last_score(ctx, id);
    return score === null || score.age_d > ctx.rule(late ? "score_fresh_d" : "score_holds_d") ? "score_her" : "";
  }
  return now ? "short" : "heading_short";
}
