import { confirmed, day_sums } from "./balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { pen_on } from "../../state/where.ts";
import type { Args } from "../ground/shapes.ts";
import { WEEK_D } from "../../tables/numbers.ts";

/** Since when less is put before her than the week had, and whether it is one more mouth that does it. */
export function cut_args(ctx: Context, id: string, seen_on: string, under_kj: number): Args {
  const on = began(ctx, id, seen_on, under_kj);
  const joined = new_mates(ctx, id, on);
  const past = on <= ctx.day;
  const cause = joined.length ? (past ? "mouths" : "mouths_ahead") : past ? "since" : "";
  return { on, days: days_between(ctx.day, on), cause, who: joined };
}

/** The first of the days without a break on which she is offered so little. */
function began(ctx: Context, id: string, seen_on: string, under_kj: number): string {
  let on = seen_on;
  for (let back = 1; back <= WEEK_D; back++) {
    const before = shift(seen_on, -back);
    const sums = day_sums(ctx, id, before, before >= ctx.day || !confirmed(ctx, id, before));
    if (!sums?.offered_me || sums.offered_me >= under_kj) break;
    on = before;
  }
  return on;
}

function new_mates(ctx: Context, id: string, on: string): string[] {
  const [pen, before] = [pen_on(ctx.doe(id), on), shift(on, -1)];
  if (!pen || pen_on(ctx.doe(id), before) !== pen) return [];
  const stood = new Set(ctx.pen_mates(pen, before));
  return ctx.pen_mates(pen, on).filter((mate) => !stood.has(mate));
}
