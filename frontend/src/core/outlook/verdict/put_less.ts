import { div } from "../../base/ints.ts";
import { feeder_says } from "../balance/at_feeder.ts";
import { enough_days, permille, window } from "../balance/balance.ts";
import { reach_pm } from "../balance/reach.ts";
import { stage } from "../feeding/stages.ts";
import { shift, type Context } from "../ground/context.ts";
import { freeze_on } from "../ground/freeze.ts";
import type { Fed, Sums, Window } from "../ground/shapes.ts";
import { near_due } from "./feeder.ts";
import { over_is_past, over_witness } from "./over.ts";
import { AHEAD_D, APPETITE_FALLS_D, PUT_LESS_WEEKS, THREE_D, WEEK_D } from "../../tables/numbers.ts";

/**
 * Less before her than there was. Where we think she eats less than she does, the ratio stays as it was while her feed
 * is cut: what is put before her tells it first.
 */

/**
 * A plan puts clearly less before her than the week had, by itself and against her need, and about no more than she
 * eats; nothing of it was seen left.
 */
export function cut_ahead(ctx: Context, id: string, fed: Fed, on: string, week: Window): boolean {
  if (!puts_less([week], fed, [ctx.rule_or_ours("offer_cut_pm"), ctx.rule_or_ours("held_fell_pm")])) return false;
  return eats_it_all(ctx, id, fed, on) && !over_witness(ctx, id, week, ctx.day);
}

/**
 * Less was put before her than in the week before: seen on two days running, and said for a week unless half of it was
 * given back.
 */
export function put_less(ctx: Context, id: string): boolean {
  return ctx.memo.put_less.once(id, "", () => find_put_less(ctx, id));
}

function find_put_less(ctx: Context, id: string): boolean {
  const [of_it, of_need] = [ctx.rule_or_ours("put_less_pm"), ctx.rule_or_ours("put_less_need_pm")];
  return less_on(ctx, id, 0, [div(of_it, 2), div(of_need, 2)]) && began_within(ctx, id, WEEK_D);
}

/** Whether it was seen on two days running within so many days. */
export function began_within(ctx: Context, id: string, days: number): boolean {
  // near her dry-off feed follows milk down as a matter of course
  if (stage(ctx, id, shift(ctx.day, AHEAD_D)) !== stage(ctx, id, ctx.day)) return false;
  const least: [number, number] = [ctx.rule_or_ours("put_less_pm"), ctx.rule_or_ours("put_less_need_pm")];
  for (let ago = 0, before = false; ago <= days; ago++) {
    const less = less_on(ctx, id, ago, least);
    if (less && before) return true;
    before = less;
  }
  return false;
}

/** Over three days before the last so many, and she is not above need. */
function less_on(ctx: Context, id: string, ago: number, least: [number, number]): boolean {
  const three = window(ctx, id, THREE_D, ago);
  if (three.days <= 1 || reach_pm(ctx, three) >= 1000 + div(div(ctx.rule("level_pm"), 2), 2)) return false;
  const back = Array.from({ length: PUT_LESS_WEEKS }, (_, k) => (k + 1) * WEEK_D + ago);
  const then = back.filter((days) => stage(ctx, id, shift(ctx.day, -days)) === stage(ctx, id, ctx.day));
  const weeks = then.map((days) => window(ctx, id, WEEK_D, days)).filter((week) => enough_days(ctx, week));
  if (!puts_less(weeks, three, least)) return false;
  const clear = over_is_past(ctx, id, ctx.day) || !over_witness(ctx, id, window(ctx, id, WEEK_D), ctx.day);
  return clear && eats_it_all(ctx, id, three, ctx.day);
}

/** Less is put before her than in the best of some weeks, by so many permille of it and of what her need had of it. */
function puts_less(weeks: Window[], fed: Fed, [of_it, of_need]: [number, number]): boolean {
  let [known, most, most_by_need] = [false, 0, 0];
  for (const week of weeks) {
    if (!week.days || week.extra.me) continue;
    known = true;
    most = Math.max(most, a_day(week));
    most_by_need = Math.max(most_by_need, by_need(week));
  }
  if (!known || fed.extra.me || a_day(fed) * 1000 >= most * (1000 - of_it)) return false;
  return by_need(fed) * 1000 < most_by_need * (1000 - of_need);
}

const a_day = ({ offered_me, days }: Fed): number => div(offered_me, Math.max(1, days));
const by_need = ({ offered_me, need }: Fed): number => permille(offered_me, need.me);

/**
 * What is put before her is about no more than she eats, of the same kind of day as today, and none of it was left; or
 * it was seen eaten up time after time, whatever we take her appetite for.
 */
function eats_it_all(ctx: Context, id: string, fed: Fed, on: string): boolean {
  if (stage(ctx, id, on) !== stage(ctx, id, ctx.day) || freeze_on(ctx, id, on)) return false;
  const seen = feeder_says(ctx, id, ctx.day);
  return seen === "clean" || (seen === "" && offered_pm(fed) < appetite_most(ctx, id, on));
}

/** What is put before her, permille of what she would eat of it. */
function offered_pm({ offered_me, got, dm, appetite_g }: Sums): number {
  return got.me && appetite_g ? permille(div(offered_me * dm, got.me), appetite_g) : 0;
}

/** Up to where she may eat all of it, permille of her appetite. */
function appetite_most(ctx: Context, id: string, on: string): number {
  const milks = ["milk", "fresh"].includes(stage(ctx, id, on));
  if (milks) return 1000 + ctx.rule_or_ours("appetite_more_milk_pm");
  return 1000 + (near_due(ctx, id, APPETITE_FALLS_D) ? 0 : ctx.rule_or_ours("appetite_more_pm"));
}
