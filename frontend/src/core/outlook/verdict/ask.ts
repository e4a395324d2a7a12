import { div } from "../../base/ints.ts";
import { confirmed, enough_days, late_on, permille, window } from "../balance/balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { closed, in_danger, many_on_plain, near_due } from "./feeder.ts";
import { last_score } from "../feeding/needs.ts";
import { below_reach, floor_pm, need_pm } from "../balance/reach.ts";
import type { Fed, Window } from "../ground/shapes.ts";
import { began_within } from "./put_less.ts";
import { ASK_AGAIN_D, LAST_WEEKS_D, UNSCORED_CLOSE_D, WEEK_D } from "../../tables/numbers.ts";

/**
 * Where the sums leave it open only a hand can tell. She is asked for a week long, whether or not a day looks better,
 * and not again for a fortnight: it was said, and where nobody scores her the careful side is taken. Late she is asked
 * for until somebody does, or she has been called short in place of it.
 */
export function asks_score(ctx: Context, id: string): boolean {
  if (ctx.tried || just_kidded(ctx, id)) return false;
  if (!unscored(ctx, id) || !within(0, WEEK_D, (ago) => open(ctx, id, ago))) return false;
  if (within(0, ASK_AGAIN_D, (ago) => careful_long(ctx, id, ago)) || began_within(ctx, id, ASK_AGAIN_D)) return false;
  return !within(WEEK_D, ASK_AGAIN_D + 1, (ago) => asked_and_done(ctx, id, ago));
}

/** Kidding takes flesh off every doe, and what was asked before it is not seen from here any more. */
function just_kidded(ctx: Context, id: string): boolean {
  const { kidded } = ctx.doe(id);
  return kidded !== null && days_between(kidded.on, ctx.day) <= ASK_AGAIN_D;
}

/** Whether she was asked for so many days ago, and that asking has come to its end. */
function asked_and_done(ctx: Context, id: string, ago: number): boolean {
  if (!open(ctx, id, ago)) return false;
  // late it goes on for as long as it is open
  if (!late_on(ctx, id, shift(ctx.day, -ago))) return true;
  return !within(ago - WEEK_D + 1, ago, (since) => open(ctx, id, since));
}

function within(from_d: number, to_d: number, holds: (ago: number) => boolean): boolean {
  for (let ago = from_d; ago < to_d; ago++) if (holds(ago)) return true;
  return false;
}

/** Whether so many days ago two weeks together left it open. */
function open(ctx: Context, id: string, ago: number): boolean {
  const [both, on] = [as_seen(ctx, id, WEEK_D + WEEK_D, ago), shift(ctx.day, -ago)];
  if (both.days < ctx.rule("confirmed_days")) return false;
  const floor = floor_pm(ctx, id, both, on);
  const doubt = doubtful(ctx, id, both, on, ctx.rule_or_ours("ask_from_pm"));
  return doubt || (floor > 0 && floor < 1000) || under_need(ctx, id, both, on);
}

/** The window as it stood on a day so long ago, so that a meal nobody confirmed today does not move what was said. */
function as_seen(ctx: Context, id: string, days: number, ago: number): Window {
  const [then, now] = [ago, 0].map((back) => (confirmed(ctx, id, shift(ctx.day, -back)) ? back : back + 1));
  return window(ctx, id, days, Math.max(0, then! - now!));
}

/**
 * Asked already some days ago, and still nobody has scored her. It stays for a week, so that a word that was said does
 * not come and go with the days, while she is still nearly so.
 */
export function asked_long(ctx: Context, id: string): boolean {
  if (!unscored(ctx, id) || !open(ctx, id, 0)) return false;
  const nearly = careful(ctx, id, window(ctx, id, WEEK_D), ctx.day, ctx.rule_or_ours("ask_from_pm"));
  return nearly && within(0, WEEK_D, (ago) => careful_long(ctx, id, ago));
}

/** Whether so many days ago the week was as careful a case as the days before it. */
function careful_long(ctx: Context, id: string, ago: number): boolean {
  const asked_d = ago + (near_due(ctx, id, LAST_WEEKS_D) ? UNSCORED_CLOSE_D : WEEK_D);
  return [ago, asked_d].every((back) => {
    const week = as_seen(ctx, id, WEEK_D, back);
    return enough_days(ctx, week) && careful(ctx, id, week, shift(ctx.day, -back));
  });
}

/**
 * Half-way from where a score is asked for to where she is short; late clearly under her floor whatever is put before
 * her, or with three kids far under her whole need on plain hay: more cannot hurt, better hay helps.
 */
function careful(ctx: Context, id: string, fed: Fed, on: string, more_pm = 0): boolean {
  const floor = floor_pm(ctx, id, fed, on);
  const least = div(ctx.rule_or_ours("ask_from_pm"), 2) + more_pm;
  const doubt = doubtful(ctx, id, fed, on, least);
  if (doubt || !floor) return doubt;
  const many = many_on_plain(ctx, id, fed) && need_pm(ctx, fed) < 1000 - ctx.rule_or_ours("many_unscored_pm") + more_pm;
  return many || floor < 1000 - ctx.rule_or_ours("late_unscored_pm") + more_pm;
}

function unscored(ctx: Context, id: string): boolean {
  const [score, late] = [last_score(ctx, id), late_on(ctx, id, ctx.day)];
  if (late && closed(ctx, id)) return false;
  return score === null || score.age_d > ctx.rule(late ? "score_fresh_d" : "score_holds_d");
}

/** Below what she can eat to, or nearly; or so far below her floor that better hay is wanted, not more. */
function doubtful(ctx: Context, id: string, fed: Fed, on: string, more_pm: number): boolean {
  const floor = floor_pm(ctx, id, fed, on);
  return (
    below_reach(ctx, id, fed, on, more_pm) ||
    (floor > 0 && floor < 1000 - ctx.rule_or_ours("late_poor_pm"))
  );
}

/** Late and with most to lose, under need at the top of the figures though she eats all she would. */
function under_need(ctx: Context, id: string, { got, need }: Fed, on: string): boolean {
  const late = late_on(ctx, id, on);
  return late && in_danger(ctx, id) && permille(got.me, need.me) < 1000 - ctx.rule("level_pm");
}
