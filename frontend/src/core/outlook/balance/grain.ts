import { div } from "../../base/ints.ts";
import { confirmed, day_sums, eaten_on, late_on, permille } from "./balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { freeze_on } from "../ground/freeze.ts";
import { milk_on } from "../feeding/needs.ts";
import { step_slack } from "../feeding/step_slack.ts";
import { cut_args } from "./cut_cause.ts";
import type { Said, Sums, Window } from "../ground/shapes.ts";
import { CUT_LOOK_D, DRY_TAKEN_D, GRAIN_LOOK_D, GRAIN_USUAL_D, RAMP_D } from "../../tables/numbers.ts";

/**
 * Grain limits and steps in dry-grain equivalent, and the rule against a true cut late.
 */

/** The most pressing grain prompt, or null. */
export function grain_word(ctx: Context, id: string): Said | null {
  const { limits } = ctx.outlooks[id]!;
  const [meal_g, day_g] = most(ctx, id);
  const [meal_limit, a_day] = [limits.grain_meal_g, day_limit(ctx, id, ctx.day)];
  if (meal_g > meal_limit) return { code: "grain_meal_big", args: { g: meal_g, limit: meal_limit } };
  if (day_g > a_day) return { code: "grain_day_big", args: { g: day_g, limit: a_day } };
  return jump_today(ctx, id, limits.step_g) ?? planned_jump(ctx, id, limits.step_g, limits.step_days);
}

/** Grams of dry grain a day that are the most for her on a date. */
export function day_limit(ctx: Context, id: string, on: string): number {
  const { limits } = ctx.outlooks[id]!;
  return milk_on(ctx, id, on) > 0 ? limits.milk_grain_day_g : limits.grain_day_g;
}

/** What the herd gives for the height of the milk to come while a fresh doe is raised. */
export function grain_for_milk(ctx: Context, id: string): { milk_g: number; g: number } {
  const milk_g = Math.max(...Array.from({ length: RAMP_D }, (_, k) => milk_on(ctx, id, shift(ctx.day, k))));
  return { milk_g, g: div(milk_g * 10, ctx.rule_or_ours("milk_per_grain_x10")) };
}

/** The most a rise may be and still pass for a step. */
export function step_most(ctx: Context, id: string): number {
  const { step_g } = ctx.outlooks[id]!.limits;
  return step_g + step_slack(ctx, id, step_g);
}

/** What she is used to: the most of her last confirmed days, or what is planned for yesterday where there is none. */
export function used_to(ctx: Context, id: string): number {
  const back = Array.from({ length: GRAIN_USUAL_D }, (_, k) => shift(ctx.day, -1 - k));
  const fed = back.filter((on) => confirmed(ctx, id, on));
  if (fed.length === 0) return eaten_on(ctx, id, back[0]!, true).day_g;
  return Math.max(...fed.map((on) => eaten_on(ctx, id, on).day_g));
}

function most(ctx: Context, id: string): [meal_g: number, day_g: number] {
  const days = [0, 1].map((back) => eaten_on(ctx, id, shift(ctx.day, -back)));
  return [Math.max(...days.map((day) => day.meal_g)), Math.max(...days.map((day) => day.day_g))];
}

/** What the plan gives today and nobody has fed yet. */
function jump_today(ctx: Context, id: string, step_g: number): Said | null {
  if (confirmed(ctx, id, ctx.day) || went_on(ctx, id, ctx.day)) return null;
  const [used, then] = [used_to(ctx, id), eaten_on(ctx, id, ctx.day, true).day_g];
  if (then - used <= step_most(ctx, id)) return null;
  return { code: "step_big", args: { g: then - used, limit: step_g } };
}

/** Somebody who plans was asked about that day's ration, and gave a reason to go on. */
function went_on(ctx: Context, id: string, on: string): boolean {
  return (ctx.plans.get(id) ?? []).some(({ marks }) => marks.some((mark) => mark.on === on && mark.reason !== ""));
}

function planned_jump(ctx: Context, id: string, step_g: number, step_days: number): Said | null {
  const days: number[] = [];
  for (let k = 0; k <= GRAIN_LOOK_D; k++) days.push(eaten_on(ctx, id, shift(ctx.day, k), true).day_g);
  const slack = step_slack(ctx, id, step_g);
  let last_rise = -step_days;
  for (let k = 1; k <= GRAIN_LOOK_D; k++) {
    const rise = days[k]! - days[k - 1]!;
    const on = shift(ctx.day, k);
    if (rise <= slack || went_on(ctx, id, on)) continue;
    if (rise > step_g + slack) return { code: "step_planned_big", args: { g: rise, limit: step_g, on } };
    if (k - last_rise < step_days) return { code: "steps_too_fast", args: { days: step_days, on } };
    last_rise = k;
  }
  return null;
}

/**
 * After the late day the plan must not fall relative to need; a dry-off, where both come down, passes. Nor is it a cut
 * where hay beyond her appetite is trimmed: what she can eat of the plan has to fall with it.
 */
export function late_cut(ctx: Context, id: string, week: Window): Said | null {
  if (!week.days || !late_on(ctx, id, shift(ctx.day, 1))) return null;
  for (let k = 1; k <= CUT_LOOK_D; k++) {
    const on = shift(ctx.day, k);
    const sums = day_sums(ctx, id, on, true);
    // grain held or out because she left it is no cut of the plan
    if (!sums?.offered_me || freeze_on(ctx, id, on)) continue;
    if (with_her_milk(ctx, id, on, sums) || !cut_between(ctx, week, sums)) continue;
    const under_kj = div(div(week.offered_me, week.days) * (1000 - ctx.rule("cut_pm")), 1000);
    return { code: "net_cut_late", args: cut_args(ctx, id, on, under_kj) };
  }
  return null;
}

/** She is milked no more since these days, and all of her need is put before her: that much came down with her milk. */
export function with_her_milk(ctx: Context, id: string, on: string, { offered_me, need }: Sums): boolean {
  const milked = milk_on(ctx, id, shift(on, -DRY_TAKEN_D)) > 0 && milk_on(ctx, id, on) === 0;
  return milked && offered_me >= need.me;
}

/** Whether a day gives less than the days before it, in itself, of what she eats and against her need. */
export function cut_between(ctx: Context, before: Sums & { days: number }, then: Sums): boolean {
  const ratio = permille(before.offered_me, before.need.me);
  const eaten = permille(before.got.me, before.appetite_g);
  const less = then.offered_me * 1000 < div(before.offered_me, before.days) * (1000 - ctx.rule("cut_pm"));
  const eats_less = permille(then.got.me, then.appetite_g) * 1000 < eaten * (1000 - ctx.rule_or_ours("cut_eaten_pm"));
  return less && eats_less && permille(then.offered_me, then.need.me) * 1000 < ratio * (1000 - ctx.rule("level_pm"));
}
