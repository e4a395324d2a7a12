import { div } from "../../base/ints.ts";
import { enough_days, window } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { freeze_on } from "../ground/freeze.ts";
import { over_witness } from "./over.ts";
import { put_less } from "./put_less.ts";
import { feeder_says } from "../balance/at_feeder.ts";
import { clear_of, floor_pm, reach_pm } from "../balance/reach.ts";
import { same_stage, stage } from "../feeding/stages.ts";
import type { Fed } from "../ground/shapes.ts";
import { THREE_D, WEEK_D } from "../../tables/numbers.ts";

/**
 * The level she has held her condition on, and what falls below it. What we misjudge of her, her hay and her feeder is
 * the same on both days, so a change is surer than where she stands.
 */

/** Permille of what she can eat to, over the better of the last two weeks; 0 where there is none to go by. */
function held_pm(ctx: Context, id: string): number {
  return ctx.memo.held.once(id, "", () => find_held(ctx, id));
}

function find_held(ctx: Context, id: string): number {
  const week = window(ctx, id, WEEK_D);
  const levels = same_stage(ctx, id) ? [week, window(ctx, id, WEEK_D, WEEK_D)] : [week];
  const held = levels.filter((part) => part.days && enough_days(ctx, part)).map((part) => reach_pm(ctx, part));
  const most = Math.max(0, ...held);
  // what was too much is not hers to keep
  return most > 1000 && over_witness(ctx, id, week, ctx.day) ? 1000 : most;
}

/**
 * Whether a planned day is clearly below what she held on; late, only where it is below her floor as well. Fresh her
 * need climbs past any level plan from day to day: there only a plan that takes feed away is told ahead.
 */
export function below_held(ctx: Context, id: string, fed: Fed, on: string): boolean {
  return stage(ctx, id, on) !== "fresh" && fell_by(ctx, id, fed, on, ctx.rule_or_ours("held_fell_pm"));
}

/** Over the last days already, and near need or under: at once, or slowly where she is under by more than is level. */
export function fell_below(ctx: Context, id: string): boolean {
  const [three, on] = [window(ctx, id, THREE_D), shift(ctx.day, -1)];
  const [now, level] = [reach_pm(ctx, three), ctx.rule("level_pm")];
  // a milker's feed comes down with her milk
  const slowly = now < 1000 - level && stage(ctx, id, ctx.day) !== "milk";
  const least_pm = ctx.rule_or_ours(slowly ? "slow_fell_pm" : "feed_fell_pm");
  if (three.days <= 1 || feeder_says(ctx, id, ctx.day) === "left") return false;
  if (put_less(ctx, id)) return true;
  return now < 1000 - div(level, 2) && fell_by(ctx, id, three, on, least_pm);
}

function fell_by(ctx: Context, id: string, fed: Fed, on: string, least_pm: number): boolean {
  const held = held_pm(ctx, id);
  if (!held || fed.extra.me) return false;
  const now = reach_pm(ctx, fed);
  // so it is on most days, and the rest is asked for nothing
  if (now * 1000 >= held * (1000 - least_pm)) return false;
  if (stage(ctx, id, on) !== stage(ctx, id, ctx.day) || freeze_on(ctx, id, on)) return false;
  return short_after(ctx, id, now, held, on) && floor_pm(ctx, id, fed, on) < Math.max(1000, held);
}

/** Read far above need she held on less than it says: half of that is taken for our own error. */
function short_after(ctx: Context, id: string, now: number, held: number, on: string): boolean {
  if (stage(ctx, id, on) === "fresh") return now < clear_of(ctx, id, on);
  const half_pm = div(now * (1000 + Math.max(1000, held)), 2 * held);
  return now < 1000 || half_pm < 1000 - ctx.rule_or_ours("held_fell_pm");
}
