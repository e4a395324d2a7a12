import { div, sum } from "../../base/ints.ts";
import { confirmed, day_sums, eaten_on, enough_days, late_on, permille, supply, window } from "../balance/balance.ts";
import { ketone_word } from "../balance/checkups.ts";
import { centred } from "../balance/surety.ts";
import { held_score } from "../feeding/needs.ts";
import { gestation_on, slot_for } from "../ground/branches.ts";
import { shift, type Context } from "../ground/context.ts";
import type { LastScore, ScoreAwaited } from "../ground/shapes.ts";
import {
  REST_CLEAR_D, REST_SAME_PM, REST_SCORE_D, REST_UNTIL_GEST, SLIM_DAY, SLIM_PAST_X100, WEEK_D,
} from "../../tables/numbers.ts";
import { leaves_hers } from "./feeder.ts";
import { fed_for_it } from "./on_her_way.ts";

/**
 * Thin or fat, and on her way back: a score moves a quarter in a month, so that asking again for what is being done
 * says nothing. Until her next score, and where that has not moved the right way not beyond it.
 */
export function score_awaited(ctx: Context, id: string): ScoreAwaited | null {
  const [score, slot] = [held_score(ctx, id), slot_for(ctx, id, ctx.day)];
  if (!score || !slot || ill(ctx, id)) return null;
  const [low, high, slack] = [slot[0].band_lo[slot[1]]!, slot[0].band_hi[slot[1]]!, ctx.rule("band_slack_x100")];
  const fat = score.x100 >= high + slack;
  if (fat) return slims(ctx, id, score) && !past_slimming(ctx, id, score.x100) ? until(ctx, id, score, "down") : null;
  const thin = score.x100 <= low - slack || (score.x100 < low && late_on(ctx, id, ctx.day));
  if (!thin || near_kidding(ctx, id)) return null;
  return fed_for_it(ctx, id, 0) ? until(ctx, id, score, "up") : null;
}

function until(ctx: Context, id: string, score: LastScore, way: "up" | "down"): ScoreAwaited | null {
  const { age_d, x100, fell, trend } = score;
  const since_d = fed_so_d(ctx, id, way);
  // a score of her first weeks on it is no answer yet, nor is one alone
  const answers = trend && since_d - age_d >= REST_CLEAR_D;
  if (answers && (way === "down" ? fell : -fell) < ctx.rule("band_slack_x100")) return null;
  const on = shift(ctx.day, REST_SCORE_D - Math.min(age_d, since_d));
  return on > ctx.day ? { way, on, x100 } : null;
}

/** Days for which she has eaten no more, or no less, than in the last week; her need is not known so far back. */
function fed_so_d(ctx: Context, id: string, way: "up" | "down"): number {
  const now = eaten_kj(ctx, id, 0);
  const [most, least] = [div(now * (1000 + REST_SAME_PM), 1000), div(now * (1000 - REST_SAME_PM), 1000)];
  const same = (kj: number) => kj > 0 && (way === "down" ? kj <= most : kj >= least);
  const days = Array.from({ length: REST_SCORE_D + REST_CLEAR_D }, (_, ago) => ago);
  const other = days.find((ago) => !same(eaten_kj(ctx, id, ago)));
  // the first such week began some days before the day it is told by
  return (other ?? days.length) + WEEK_D - 2;
}

/** Under her need, or clearly less than she was scored on. */
function slims(ctx: Context, id: string, { age_d }: LastScore): boolean {
  const weeks = [WEEK_D, WEEK_D + WEEK_D].map((days) => window(ctx, id, days));
  const fed = weeks.find((each) => enough_days(ctx, each));
  if (!fed?.days) return false;
  const [pm, level] = [centred(ctx, permille(fed.got.me, fed.need.me)), ctx.rule("level_pm")];
  const before = Math.max(eaten_kj(ctx, id, age_d), eaten_kj(ctx, id, age_d + REST_CLEAR_D));
  return pm <= 1000 || (pm <= 1000 + level && eaten_kj(ctx, id, 0) * 1000 <= before * (1000 - level));
}

/** A day, over the confirmed days of a week so long ago; 0 where there are none. */
function eaten_kj(ctx: Context, id: string, ago: number): number {
  const week = Array.from({ length: WEEK_D }, (_, k) => shift(ctx.day, -ago - k));
  const days = week.filter((on) => confirmed(ctx, id, on));
  const kj = (on: string) => day_sums(ctx, id, on, false)?.got.me ?? supply(ctx, eaten_on(ctx, id, on).dm).got.me;
  return days.length ? div(sum(days.map(kj)), days.length) : 0;
}

/** In about her last four weeks a thin doe is spoken of whatever she gets. */
function near_kidding(ctx: Context, id: string): boolean {
  return gestation_on(ctx, id, ctx.day) >= REST_UNTIL_GEST;
}

/** What she left of her own, or her ketones, say otherwise; hay left in a pen's feeder says that there was enough. */
function ill(ctx: Context, id: string): boolean {
  return leaves_hers(ctx, id) || !["", "clear"].includes(ketone_word(ctx, id) ?? "");
}

/** From the late day on nothing is cut; a very heavy doe is past slimming ten days before. */
export function past_slimming(ctx: Context, id: string, x100: number): boolean {
  const gest = gestation_on(ctx, id, ctx.day);
  return gest >= ctx.rule("late_day") || (gest >= SLIM_DAY[1] && x100 >= SLIM_PAST_X100);
}
