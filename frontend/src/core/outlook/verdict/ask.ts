import { enough_days, late_on, permille, window } from "../balance/balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { closed, in_danger } from "./feeder.ts";
import { last_score } from "../feeding/needs.ts";
import { below_reach, floor_pm, type Fed } from "../balance/reach.ts";
import { ASK_AGAIN_D, LAST_WEEKS_D, UNSCORED_CLOSE_D, WEEK_D } from "../../tables/numbers.ts";

/**
 * Where the sums leave it open only a hand can tell. She is asked for a week long, whether or not a day looks better,
 * and not again for a fortnight: it was said, and where nobody scores her the careful side is taken. Late she is asked
 * for until somebody does.
 */
export function asks_score(ctx: Context, id: string): boolean {
  const any = (from_d: number, days: number) => Array.from({ length: days }, (_, k) => from_d + k).some(
    (ago) => open(ctx, id, ago),
  );
  return unscored(ctx, id) && any(0, WEEK_D) && (late_on(ctx, id, ctx.day) || !any(WEEK_D, ASK_AGAIN_D));
}

/** Whether so many days ago two weeks together left it open. */
function open(ctx: Context, id: string, ago: number): boolean {
  const [both, on] = [window(ctx, id, WEEK_D + WEEK_D, ago), shift(ctx.day, -ago)];
  if (both.days < ctx.rule("confirmed_days")) return false;
  const floor = floor_pm(ctx, id, both, on);
  return doubtful(ctx, id, both, on) || (floor > 0 && floor < 1000) || under_need(ctx, id, both, on);
}

/** Asked already some days ago, and still nobody has scored her. */
export function asked_long(ctx: Context, id: string): boolean {
  const ago = near(ctx, id) ? UNSCORED_CLOSE_D : WEEK_D;
  const [week, before] = [window(ctx, id, WEEK_D), window(ctx, id, WEEK_D, ago)];
  const then = enough_days(ctx, before) && careful(ctx, id, before, shift(ctx.day, -ago));
  return then && unscored(ctx, id) && careful(ctx, id, week, ctx.day);
}

/** In doubt, or late clearly under her floor whatever is put before her: more cannot hurt, better hay helps. */
function careful(ctx: Context, id: string, fed: Fed, on: string): boolean {
  const floor = floor_pm(ctx, id, fed, on);
  return doubtful(ctx, id, fed, on) || (floor > 0 && floor < 1000 - ctx.rule_or_ours("late_unscored_pm"));
}

function unscored(ctx: Context, id: string): boolean {
  const [score, late] = [last_score(ctx, id), late_on(ctx, id, ctx.day)];
  if (late && closed(ctx, id)) return false;
  return score === null || score.age_d > ctx.rule(late ? "score_fresh_d" : "score_holds_d");
}

/** Below what she can eat to, or nearly; or so far below her floor that better hay is wanted, not more. */
function doubtful(ctx: Context, id: string, fed: Fed, on: string): boolean {
  const floor = floor_pm(ctx, id, fed, on);
  return (
    below_reach(ctx, id, fed, on, ctx.rule_or_ours("ask_from_pm")) ||
    (floor > 0 && floor < 1000 - ctx.rule_or_ours("late_poor_pm"))
  );
}

/** Late and with most to lose, under need at the top of the figures though she eats all she would. */
function under_need(ctx: Context, id: string, { got, need }: Fed, on: string): boolean {
  const late = late_on(ctx, id, on);
  return late && in_danger(ctx, id) && permille(got.me, need.me) < 1000 - ctx.rule("level_pm");
}

/** In her last weeks. */
function near(ctx: Context, id: string): boolean {
  const due = ctx.doe(id).bred ? ctx.outlooks[id]!.due : null;
  return due !== null && days_between(ctx.day, due.early) <= LAST_WEEKS_D;
}
