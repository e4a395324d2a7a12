import { div } from "../base/ints.ts";
import { confirmed, day_sums, eaten_on, gestation_on, permille } from "./balance.ts";
import { shift, type Context } from "./context.ts";
import { freeze_on } from "./freeze.ts";
import { milk_on } from "./needs.ts";
import { cut_args } from "./cut_cause.ts";
import { step_slack } from "./step_slack.ts";
import type { Said, Window } from "./shapes.ts";
import { CUT_LOOK_D, GRAIN_LOOK_D, GRAIN_USUAL_D } from "../tables/numbers.ts";

/**
 * Grain limits and steps in dry-grain equivalent, and the rule against a true cut late.
 */

/** The most pressing grain prompt, or null. */
export function grain_word(ctx: Context, id: string): Said | null {
  const { limits } = ctx.outlooks[id]!;
  const [meal_g, day_g] = most(ctx, id);
  const day_limit = milk_on(ctx, id, ctx.day) > 0 ? limits.milk_grain_day_g : limits.grain_day_g;
  const [meal_limit, step_limit] = [limits.grain_meal_g, limits.step_g];
  if (meal_g > meal_limit) return { code: "grain_meal_big", args: { g: meal_g, limit: meal_limit } };
  if (day_g > day_limit) return { code: "grain_day_big", args: { g: day_g, limit: day_limit } };
  const jump = fed_jump(ctx, id);
  const over = jump > step_limit + step_slack(ctx, id, step_limit);
  if (over) return { code: "step_big", args: { g: jump, limit: step_limit } };
  return planned_jump(ctx, id, step_limit, limits.step_days);
}

function most(ctx: Context, id: string): [meal_g: number, day_g: number] {
  const days = [0, 1].map((back) => eaten_on(ctx, id, shift(ctx.day, -back)));
  return [Math.max(...days.map((day) => day.meal_g)), Math.max(...days.map((day) => day.day_g))];
}

/** Rise of the latest confirmed day over the most of the days before; 0 unless those are confirmed. */
function fed_jump(ctx: Context, id: string): number {
  const back = confirmed(ctx, id, ctx.day) ? 0 : 1;
  const before = Array.from({ length: GRAIN_USUAL_D }, (_, k) => shift(ctx.day, -back - 1 - k));
  if (!before.every((on) => confirmed(ctx, id, on))) return 0;
  const usual = Math.max(...before.map((on) => eaten_on(ctx, id, on).day_g));
  return eaten_on(ctx, id, shift(ctx.day, -back)).day_g - usual;
}

function planned_jump(ctx: Context, id: string, step_g: number, step_days: number): Said | null {
  const days: number[] = [];
  for (let k = 0; k <= GRAIN_LOOK_D; k++) days.push(eaten_on(ctx, id, shift(ctx.day, k), true).day_g);
  const slack = step_slack(ctx, id, step_g);
  let last_rise = -step_days;
  for (let k = 1; k <= GRAIN_LOOK_D; k++) {
    const rise = days[k]! - days[k - 1]!;
    const on = shift(ctx.day, k);
    if (rise > step_g + slack) return { code: "step_planned_big", args: { g: rise, limit: step_g, on } };
    if (rise <= slack) continue;
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
  if (!week.days || gestation_on(ctx, id, shift(ctx.day, 1)) < ctx.rule("late_day")) return null;
  const now = div(week.offered_me, week.days);
  const ratio = permille(week.offered_me, week.need.me);
  const eaten = permille(week.got.me, week.appetite_g);
  for (let k = 1; k <= CUT_LOOK_D; k++) {
    const on = shift(ctx.day, k);
    const sums = day_sums(ctx, id, on, true);
    // grain held or out because she left it is no cut of the plan
    if (!sums?.offered_me || freeze_on(ctx, id, on)) continue;
    const less = sums.offered_me * 1000 < now * (1000 - ctx.rule("cut_pm"));
    const then = permille(sums.offered_me, sums.need.me);
    const eats_less = permille(sums.got.me, sums.appetite_g) * 1000 < eaten * (1000 - ctx.rule_or_ours("cut_eaten_pm"));
    if (less && eats_less && then * 1000 < ratio * (1000 - ctx.rule("level_pm"))) {
      return { code: "net_cut_late", args: cut_args(ctx, id, on, div(now * (1000 - ctx.rule("cut_pm")), 1000)) };
    }
  }
  return null;
}
