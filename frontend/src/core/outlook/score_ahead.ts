import { div, isqrt, sum } from "../ints.ts";
import { eaten_on, enough_days, supply, window } from "./balance.ts";
import { slot_for } from "./branches.ts";
import { days_between, shift, type Context } from "./context.ts";
import { activity_pm, cold_pm, fcm_on, last_score, season_value, type LastScore } from "./needs.ts";
import { has_plan } from "./plan.ts";
import type { ConditionAhead, DoeResult, Window } from "./shapes.ts";
import { supply_doubt, Z80_PM } from "./surety.ts";

/** Her last score, carried along the week she had and the plan she has to kidding. Twin of herd/outlook/score_ahead.py. */
const FARTHEST_D = 60;
const STRETCH_D = 7;
const [LEAST_X100, MOST_X100] = [100, 500];

type Ahead = Pick<DoeResult, "condition_ahead" | "condition_why">;
type Balance = [over: number, short: number];

/** Her score at her mid due date with an 80 % band, or why not. */
export function condition_ahead(ctx: Context, id: string, { standing, gest, due }: DoeResult): Ahead {
  if (standing !== "ok" || gest < 0 || !due) return none("not_carrying");
  const { drivers } = ctx.outlooks[id]!;
  const [days, score, week] = [days_between(ctx.day, due.mid), last_score(ctx, id), window(ctx, id, 7)];
  const why = drivers["me_kj_per_point_lost"] ? why_not(ctx, days, score, week) : "old_outlook";
  if (why || score === null) return none(why);
  const found = balance(ctx, id, days, score.age_d, week);
  return found === null ? none("feed_value") : scored(ctx, id, due.mid, days, score, week, found);
}

function none(condition_why: string): Ahead {
  return { condition_ahead: null, condition_why };
}

function why_not(ctx: Context, days: number, score: LastScore | null, week: Window): string {
  if (days <= 0) return "due";
  if (days > FARTHEST_D) return "too_far";
  if (score === null) return "no_score";
  if (score.age_d > ctx.rule("score_holds_d")) return "old_score";
  if (!week.days || !enough_days(ctx, week)) return "few_days";
  return week.extra.me ? "feed_value" : "";
}

/** Energy over and short from her score to kidding; a week is taken as its middle day. Null with a feed unknown. */
function balance(ctx: Context, id: string, days: number, age_d: number, week: Window): Balance | null {
  const usual = div(week.got.me, week.days);
  let [over, short] = [0, 0];
  for (const [middle, n] of [...stretches(-age_d, 0), ...stretches(0, days)]) {
    const on = shift(ctx.day, middle);
    const got = middle > 0 && has_plan(ctx, id, on) ? planned(ctx, id, on) : usual;
    if (got === null) return null;
    const gap = (got - body_need(ctx, id, on)) * n;
    over += Math.max(0, gap);
    short += Math.max(0, -gap);
  }
  return [over, short];
}

/** The middle day and length of the weeks after day `first` up to `last`, counted from today. */
function stretches(first: number, last: number): [middle: number, n: number][] {
  const found: [number, number][] = [];
  for (let start = first + 1; start <= last; start += STRETCH_D) {
    const n = Math.min(STRETCH_D, last + 1 - start);
    found.push([start + div(n, 2), n]);
  }
  return found;
}

function planned(ctx: Context, id: string, on: string): number | null {
  const { got, extra } = supply(ctx, eaten_on(ctx, id, on, true).dm);
  return extra.me ? null : got.me;
}

/** Energy that would hold her as she is: need without what is to bring a thin doe back. */
function body_need(ctx: Context, id: string, on: string): number {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return season_value(ctx, id, on, "me_kj");
  const [branch, i] = slot;
  const milk = div(fcm_on(ctx, id, on) * ctx.outlooks[id]!.drivers["me_kj_per_kg_fcm"]!, 1000);
  const abroad = div(branch.maint_kj[i]! * (activity_pm(ctx, id, on) + cold_pm(ctx, on)), 1000);
  return branch.me_kj[i]! + milk + abroad;
}

function scored(
  ctx: Context, id: string, on: string, days: number, score: LastScore, week: Window, [over_kj, short_kj]: Balance,
): Ahead {
  const { drivers } = ctx.outlooks[id]!;
  const change = div(over_kj, drivers["me_kj_per_point"]!) - div(short_kj, drivers["me_kj_per_point_lost"]!);
  const x100 = score.x100 + change;
  if (x100 < LEAST_X100 || x100 > MOST_X100) return none("off_scale");
  // an error of feed, feeder or need lasts, so it grows with the days
  const a_day = div(isqrt(supply_doubt(ctx, week) + week.need_sd ** 2), week.days);
  const spread: ConditionAhead["spread"] = {
    scorer: drivers["score_sd_x100"]!,
    conversion: div(Math.abs(change) * drivers["point_sd_pm"]!, 1000),
    balance: div((days + score.age_d) * a_day, drivers["me_kj_per_point"]!),
  };
  const half = div(isqrt(sum(Object.values(spread).map((part) => part * part))) * Z80_PM, 1000);
  const [lo, hi] = [Math.max(LEAST_X100, x100 - half), Math.min(MOST_X100, x100 + half)];
  const found = { on, x100, lo, hi, from: score.x100, age_d: score.age_d, over_kj, short_kj, spread };
  return { condition_ahead: found, condition_why: "" };
}
