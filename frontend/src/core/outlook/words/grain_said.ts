import { eaten_on, late_on } from "../balance/balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { day_limit, grain_word } from "../balance/grain.ts";
import type { Said } from "../ground/shapes.ts";
import { SEEN_HOLD_D } from "../../tables/numbers.ts";

/** Grain over a limit: late it is not brought down at once, and where her gut shows it, it is an illness. */
const OVER = new Set(["grain_meal_big", "grain_day_big"]);

export function grain_said(ctx: Context, id: string): Said | null {
  const said = grain_word(ctx, id);
  if (said === null || !OVER.has(said.code)) return said;
  const { limits } = ctx.outlooks[id]!;
  const days = [0, 1].map((back) => eaten_on(ctx, id, shift(ctx.day, -back)));
  const [day, most] = [Math.max(...days.map(({ day_g }) => day_g)), day_limit(ctx, id, ctx.day)];
  const args = { day, most, meal: limits.grain_meal_g };
  if (sour(ctx, id)) return { code: "overload_signs", args: { ...said.args, ...args } };
  const late = late_on(ctx, id, ctx.day);
  return { ...said, args: { ...said.args, ...args, late, days: limits.step_days } };
}

/** Soft dung or no cud, seen today or yesterday. */
function sour(ctx: Context, id: string): boolean {
  return ctx.doe(id).checkups.some(
    ([on, , , , , , , seen]) =>
      on <= ctx.day && days_between(on, ctx.day) <= SEEN_HOLD_D && (seen.dung === "loose" || seen.cud === "none"),
  );
}
