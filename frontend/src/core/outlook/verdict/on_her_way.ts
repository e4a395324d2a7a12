import { enough_days, gestation_on, permille, window } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { floor_pm } from "../balance/reach.ts";
import { centred } from "../balance/surety.ts";
import type { Window } from "../ground/shapes.ts";
import { held_score } from "../feeding/needs.ts";
import { REST_UNTIL_GEST, THREE_D, WEEK_D } from "../../tables/numbers.ts";
import { in_danger } from "./feeder.ts";

/**
 * Thin, and fed for it: her week held her need, in which what brings her back is counted, or late all that she can eat
 * to. Then her score says nothing new, unless it fell though she had been fed for it already.
 */
export function on_her_way_up(ctx: Context, id: string): boolean {
  const score = held_score(ctx, id);
  // in her last four weeks it is said whatever she gets
  if (gestation_on(ctx, id, ctx.day) >= REST_UNTIL_GEST || !fed_for_it(ctx, id, 0)) return false;
  if (!score || score.fell < ctx.rule("score_fell_x100")) return true;
  return [score.age_d, score.age_d + WEEK_D].some((ago) => !fed_for_it(ctx, id, ago));
}

/** Over three days, or the week before the last so many days; two weeks where too few meals of it are confirmed. */
export function fed_for_it(ctx: Context, id: string, ago: number): boolean {
  const [three, week, two] = [THREE_D, WEEK_D, WEEK_D + WEEK_D].map((days) => window(ctx, id, days, ago));
  if (three!.days === THREE_D && holds_need(ctx, id, three!, ago)) return true;
  const fed = [week!, two!].find((each) => enough_days(ctx, each));
  return fed !== undefined && fed.days > 0 && holds_need(ctx, id, fed, ago);
}

function holds_need(ctx: Context, id: string, fed: Window, ago: number): boolean {
  if (centred(ctx, permille(fed.got.me, fed.need.me)) >= 1000) return true;
  return !in_danger(ctx, id) && floor_pm(ctx, id, fed, shift(ctx.day, -ago)) >= 1000;
}
