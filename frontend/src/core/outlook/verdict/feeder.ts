import { late_on } from "../balance/balance.ts";
import { ketone_word } from "../balance/checkups.ts";
import { pen_on } from "../../state/where.ts";
import type { Sums } from "../ground/shapes.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { last_score } from "../feeding/needs.ts";
import { LAST_WEEKS_D, MANY_KIDS_X100, REFUSAL_D } from "../../tables/numbers.ts";

/** Whether she eats all there is; and what lets a keeper leave it at that. */

/** Less before her than she would eat, over days added up: what she eats is what she was given. */
export function below_appetite(ctx: Context, { dm, appetite_g }: Sums): boolean {
  return dm * 1000 < appetite_g * (1000 - ctx.rule("level_pm"));
}

/** Nothing was seen left of her own or her pen's meals in the last days. */
export function cleaned(ctx: Context, id: string): boolean {
  return last_days(ctx, 0, REFUSAL_D).every((on) =>
    (ctx.intakes.get(on) ?? []).every(
      ({ subject, how }) => how !== "left_some" || (subject !== id && subject !== pen_on(ctx.doe(id), on)),
    ),
  );
}

/** She herself left some in the last days, or would not come. */
export function leaves_hers(ctx: Context, id: string): boolean {
  return last_days(ctx, 0, REFUSAL_D).some((on) =>
    (ctx.intakes.get(on) ?? []).some(({ subject, how }) => subject === id && how !== "ate_all"),
  );
}

/** Late, a score that holds answers the question for a while; of those in most danger no score does. */
export function answered(ctx: Context, id: string): boolean {
  return !in_danger(ctx, id) && holds_now(ctx, id);
}

/** As `answered`; and for those in most danger clear ketones and a clean feeder. */
export function closed(ctx: Context, id: string): boolean {
  if (!in_danger(ctx, id)) return holds_now(ctx, id);
  return ["", "clear"].includes(ketone_word(ctx, id) ?? "unread") && cleaned(ctx, id);
}

function holds_now(ctx: Context, id: string): boolean {
  const score = last_score(ctx, id);
  if (score === null || !late_on(ctx, id, ctx.day)) return false;
  const holds = score.x100 >= ctx.rule("score_thin_x100") && score.fell < ctx.rule("score_fell_x100");
  return holds && score.age_d <= ctx.rule_or_ours("score_closes_d");
}

/** Three kids and more, or fat: her score tells least where she has most to lose. */
export function in_danger(ctx: Context, id: string): boolean {
  return many_kids(ctx, id) || (last_score(ctx, id)?.x100 ?? 0) >= ctx.rule_or_ours("score_very_fat_x100");
}

function many_kids(ctx: Context, id: string): boolean {
  return (ctx.outlooks[id]!.who?.litter_x100 ?? 0) >= MANY_KIDS_X100;
}

/** Three kids and more, and nobody has read clear ketones at a clean feeder: her whole need counts. */
export function many_open(ctx: Context, id: string): boolean {
  return many_kids(ctx, id) && !closed(ctx, id);
}

/** So in her last four weeks, on feed less rich than the best hay: she can be brought nearer. */
export function many_on_plain(ctx: Context, id: string, { got, dm }: Sums): boolean {
  const plain = got.me * 1000 < dm * ctx.rule_or_ours("dense_hay_kj_kg");
  return plain && near_due(ctx, id, LAST_WEEKS_D) && many_open(ctx, id);
}

/** So near her earliest date. */
export function near_due(ctx: Context, id: string, within_d: number): boolean {
  const due = ctx.doe(id).bred ? ctx.outlooks[id]!.due : null;
  return due !== null && days_between(ctx.day, due.early) <= within_d;
}

export function last_days(ctx: Context, first: number, n: number): string[] {
  return Array.from({ length: n }, (_, k) => shift(ctx.day, -first - k));
}
