import { div, isqrt, sum } from "../../base/ints.ts";
import { confirmed, eaten_on, enough_days, supply_of, window } from "./balance.ts";
import { slot_for } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { activity_pm, cold_pm, fcm_on, last_score, season_value } from "../feeding/needs.ts";
import { has_plan } from "../feeding/plan.ts";
import type { Drivers } from "../ground/documents.ts";
import type { ConditionAhead, DoeResult, FullResult, LastScore, Window } from "../ground/shapes.ts";
import { supply_doubt } from "./surety.ts";
import { SCORE_X100 } from "../../tables/forms.ts";
import { CONDITION_FARTHEST_D, CONDITION_LEARN_D, CONDITION_STRETCH_D, WEEK_D, Z80_PM } from "../../tables/numbers.ts";

/**
 * Her last score, carried along the week she had and the plan she has to kidding. Published systems differ twofold in
 * what a litter asks for late: it is carried along at the middle of them. What her own scores say against the sums is
 * learned first.
 */
const [LEAST_X100, MOST_X100] = SCORE_X100;

type Ahead = Pick<FullResult, "condition_ahead" | "condition_why">;
/** kJ over or, negative, short; and half of what systems dispute. */
type Net = [net: number, disputed: number];

/** Her score at her mid due date with an 80 % band, or why not. */
export function condition_ahead(
  ctx: Context, id: string, { standing, gest, due }: Pick<DoeResult, "standing" | "gest" | "due">,
): Ahead {
  if (standing !== "ok" || gest < 0 || !due) return none("not_carrying");
  const { drivers } = ctx.outlooks[id]!;
  const [days, score, week] = [days_between(ctx.day, due.mid), last_score(ctx, id), window(ctx, id, WEEK_D)];
  const why = drivers.me_kj_per_point_lost ? why_not(ctx, days, score, week) : "old_outlook";
  if (why || score === null) return none(why);
  const [since, ahead] = [net_energy(ctx, id, -score.age_d, 0, week), net_energy(ctx, id, 0, days, week)];
  if (since === null || ahead === null) return none("feed_value");
  return scored(ctx, id, due.mid, score, week, [since[0] + ahead[0], since[1] + ahead[1]]);
}

function none(condition_why: string): Ahead {
  return { condition_ahead: null, condition_why };
}

function why_not(ctx: Context, days: number, score: LastScore | null, week: Window): string {
  if (days <= 0) return "due";
  if (days > CONDITION_FARTHEST_D) return "too_far";
  if (score === null) return "no_score";
  if (score.age_d > ctx.rule("score_holds_d")) return "old_score";
  if (!week.days || !enough_days(ctx, week)) return "few_days";
  return week.extra.me ? "feed_value" : "";
}

/**
 * Energy over or short after day `first` up to `last` from today; null with a feed unknown. A fortnight is taken as its
 * middle day: what was eaten or is planned on it, else what she ate over the last week.
 */
function net_energy(ctx: Context, id: string, first: number, last: number, week: Window): Net | null {
  const usual = div(week.got.me, week.days);
  let [net, disputed] = [0, 0];
  for (const [middle, n] of stretches(first, last)) {
    const on = shift(ctx.day, middle);
    const known = middle > 0 ? has_plan(ctx, id, on) : confirmed(ctx, id, on);
    const got = known ? eaten(ctx, id, on, middle > 0) : usual;
    if (got === null) return null;
    const [need, half] = body_need(ctx, id, on);
    net += (got - need) * n;
    disputed += half * n;
  }
  return [net, disputed];
}

/** The middle day and length of the fortnights after day `first` up to `last`, counted from today. */
function stretches(first: number, last: number): [middle: number, n: number][] {
  const found: [number, number][] = [];
  for (let start = first + 1; start <= last; start += CONDITION_STRETCH_D) {
    const n = Math.min(CONDITION_STRETCH_D, last + 1 - start);
    found.push([start + div(n, 2), n]);
  }
  return found;
}

function eaten(ctx: Context, id: string, on: string, planned: boolean): number | null {
  const { got, extra } = supply_of(ctx, eaten_on(ctx, id, on, planned));
  return extra.me ? null : got.me;
}

/**
 * Energy that would hold her as she is, without what brings a thin doe back, and half of what systems dispute.
 * The litter lies between the herd's floor share and the whole; the rest at the middle of the published figures.
 */
export function body_need(ctx: Context, id: string, on: string): [need: number, half: number] {
  const [slot, high] = [slot_for(ctx, id, on), 1000 + ctx.rule("need_high_pm")];
  if (slot === null) return [div(season_value(ctx, id, on, "me_kj") * 1000, high), 0];
  const [branch, i] = slot;
  const litter = branch.preg_me_kj[i]!;
  const half = div(litter * (1000 - ctx.rule("floor_share_pm")), 2000);
  const milk = div(fcm_on(ctx, id, on) * ctx.outlooks[id]!.drivers.me_kj_per_kg_fcm, 1000);
  const abroad = div(branch.maint_kj[i]! * (activity_pm(ctx, id, on) + cold_pm(ctx, on)), 1000);
  const rest = branch.me_kj[i]! - litter + milk + abroad;
  return [div(rest * 1000, high) + litter - half, half];
}

function scored(
  ctx: Context, id: string, on: string, score: LastScore, week: Window, [by_sums, disputed]: Net,
): Ahead {
  const { drivers } = ctx.outlooks[id]!;
  const length = days_between(ctx.day, on) + score.age_d;
  // an error of feed, feeder or need lasts, so it grows with the days
  const a_day = div(isqrt(supply_doubt(ctx, week) + week.need_sd ** 2), week.days);
  const [own_kj_d, left] = learned(ctx, id, score, week, a_day);
  const net_kj = by_sums + own_kj_d * length;
  const change = points_of(net_kj, drivers);
  const x100 = score.x100 + change;
  if (x100 < LEAST_X100 || x100 > MOST_X100) return none("off_scale");
  const spread: ConditionAhead["spread"] = {
    scorer: drivers.score_sd_x100,
    conversion: div(Math.abs(change) * drivers.point_sd_pm, 1000),
    balance: div(length * left, drivers.me_kj_per_point),
    // the two published ends are taken as the ends of the 80 % band
    litter: div(div(disputed * 1000, Z80_PM), drivers.me_kj_per_point_lost),
  };
  const half = div(isqrt(sum(Object.values(spread).map((part) => part * part))) * Z80_PM, 1000);
  const [lo, hi] = [Math.max(LEAST_X100, x100 - half), Math.min(MOST_X100, x100 + half)];
  const found = { on, x100, lo, hi, from: score.x100, age_d: score.age_d, net_kj, own_kj_d, spread };
  return { condition_ahead: found, condition_why: "" };
}

/** Hundredths of a point for energy over or short. */
function points_of(net_kj: number, drivers: Drivers): number {
  if (net_kj >= 0) return div(net_kj, drivers.me_kj_per_point);
  return 0 - div(-net_kj, drivers.me_kj_per_point_lost);
}

/**
 * kJ a day to add to the sums for this doe, and the doubt left a day: two scores against what was fed between them.
 * The mean of what the sums say and what her scores say, each weighed by how sure it is.
 */
function learned(ctx: Context, id: string, score: LastScore, week: Window, a_day: number): [own: number, left: number] {
  const earlier = earlier_score(ctx, id, score);
  if (earlier === null || !a_day) return [0, a_day];
  const [apart, x100] = earlier;
  const [first, last] = [-score.age_d - apart, -score.age_d];
  const recorded = stretches(first, last).every(([middle]) => confirmed(ctx, id, shift(ctx.day, middle)));
  const between = recorded ? net_energy(ctx, id, first, last, week) : null;
  if (between === null) return [0, a_day];
  const { drivers } = ctx.outlooks[id]!;
  const gained = score.x100 - x100;
  // offered more than she needed she did not run to fat: she left it, and that tells nothing of scarcer days
  if (between[0] > 0 && gained >= 0) return [0, a_day];
  const seen = gained * drivers[gained >= 0 ? "me_kj_per_point" : "me_kj_per_point_lost"];
  const of_scores = div(isqrt(2 * (drivers.score_sd_x100 * drivers.me_kj_per_point) ** 2), apart);
  const trust_pm = div(a_day * a_day * 1000, a_day * a_day + of_scores * of_scores);
  return [div(div(seen - between[0], apart) * trust_pm, 1000), div(a_day * isqrt((1000 - trust_pm) * 1000), 1000)];
}

/** Days before her last score, and the score farthest back that still tells of this feeding. */
function earlier_score(ctx: Context, id: string, score: LastScore): [apart: number, x100: number] | null {
  const last = shift(ctx.day, -score.age_d);
  for (const [on, x100] of ctx.doe(id).scores) {
    const apart = days_between(on, last);
    if (apart >= CONDITION_LEARN_D[0] && apart <= CONDITION_LEARN_D[1]) return [apart, x100];
  }
  return null;
}
