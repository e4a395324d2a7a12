import { gestation_on } from "../ground/branches.ts";
import { div } from "../../base/ints.ts";
import { enough_days, permille, window } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { floor_pm } from "../balance/reach.ts";
import { condition_ahead } from "../balance/score_ahead.ts";
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
  if (in_danger(ctx, id) || floor_pm(ctx, id, fed, shift(ctx.day, -ago)) < 1000) return false;
  return ago > 0 || raised(ctx, id) || !wastes(ctx, id);
}

/** She gets clearly more than when she was scored: her next score will tell. */
function raised(ctx: Context, id: string): boolean {
  const score = held_score(ctx, id);
  const [now, then] = [window(ctx, id, THREE_D), window(ctx, id, WEEK_D, score?.age_d ?? 0)];
  if (!score || !now.days || !then.days) return false;
  return div(now.got.me, now.days) * 1000 > div(then.got.me, then.days) * (1000 + ctx.rule("level_pm"));
}

/** At her floor she may still lose flesh to kidding: by as much as is told of two scores. */
function wastes(ctx: Context, id: string): boolean {
  const due = ctx.doe(id).bred ? ctx.outlooks[id]!.due : null;
  const seen = { standing: "ok" as const, gest: gestation_on(ctx, id, ctx.day), due };
  const ahead = condition_ahead(ctx, id, seen).condition_ahead;
  return ahead !== null && ahead.from - ahead.x100 >= ctx.rule("score_fell_x100");
}
