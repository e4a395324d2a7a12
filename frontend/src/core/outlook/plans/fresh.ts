import { div } from "../../base/ints.ts";
import { day_limit } from "../balance/grain.ts";
import { day_sums, eaten_on, permille } from "../balance/balance.ts";
import { standing } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { milk_on } from "../feeding/needs.ts";
import { has_plan } from "../feeding/plan.ts";
import { RAMP_D } from "../../tables/numbers.ts";
import { held, ready } from "./close_up.ts";
import { grain_slots, grains_for, own_context, with_lines } from "./places.ts";
import { rise, type Rise } from "./rise.ts";
import { NO_PLAN, type RisePlan } from "./shapes.ts";

/**
 * Grain after kidding: in her own steps from what she got before it to what the herd gives for so much milk, within
 * her limits and no farther than her need. Null for a doe that has not kidded lately.
 */
export function fresh_plan(ctx: Context, id: string, grain = ""): RisePlan | null {
  const { kidded, bred, dried_on } = ctx.doe(id);
  if (!kidded || bred || dried_on || days_between(kidded.on, ctx.day) > RAMP_D) return null;
  if (standing(ctx, id) !== "ok") return null;
  const { limits } = ctx.outlooks[id]!;
  const milk_g = most_milk(ctx, id);
  const by_milk = div(milk_g * 10, ctx.rule_or_ours("milk_per_grain_x10"));
  const from_g = eaten_on(ctx, id, shift(ctx.day, 1), true).day_g;
  const start = ready(ctx, id, shift(kidded.on, limits.step_days));
  const feeds = grains_for(ctx, id);
  const [feed, slots] = [feeds.includes(grain) ? grain : feeds[0], grain_slots(ctx, id)];
  const aim_g = Math.min(by_milk, day_limit(ctx, id, shift(ctx.day, 1)), limits.grain_meal_g * Math.max(1, slots.length));
  const to_g = eaten_on(ctx, id, shift(ctx.day, RAMP_D), true).day_g;
  const steps = Math.max(0, div(aim_g - from_g + limits.step_g - 1, limits.step_g));
  const told: RisePlan = {
    ...NO_PLAN, code: "plan_fresh", doe: id, none: "", short: aim_g < by_milk ? "meals" : "", first_on: start, steps, fit: steps, held_on: held(ctx, id),
    milk_g, loss_g: 0, loss_x100: 0, aim_g, from_g, to_g, grain: feed ?? "",
  };
  if (to_g + div(limits.step_g, 2) >= aim_g) return { ...told, none: "enough" };
  if (!feed) return { ...told, none: "no_grain" };
  if (!slots.length || !has_plan(ctx, id, shift(ctx.day, 1))) return { ...told, none: "no_meals" };
  const own = own_context(ctx);
  const wanted = { id, feed, slots, first_on: start, before: "", calcium: false };
  const made = to_need(own, id, (g) => rise(own, { ...wanted, aim_g: g }), { from_g, aim_g, step_g: limits.step_g });
  const none = made.lines.length || made.stops.length ? "" : "enough";
  const less = made.to_g + limits.step_g <= aim_g && !made.stops.length;
  return { ...told, ...made, none, short: made.stops.length ? "gate" : less ? "need" : told.short };
}

/** The height of the milk to come while she is raised. */
function most_milk(ctx: Context, id: string): number {
  return Math.max(...Array.from({ length: RAMP_D }, (_, k) => milk_on(ctx, id, shift(ctx.day, k))));
}

/** As far as the herd's rule goes; a step less where the hay she gets makes it more than she needs. */
function to_need(
  ctx: Context, id: string, raised: (g: number) => Rise, at: { from_g: number; aim_g: number; step_g: number },
): Rise {
  const most = 1000 + ctx.rule("level_pm");
  let made = raised(at.aim_g);
  for (let g = at.aim_g; made.lines.length; g -= at.step_g) {
    const on = made.lines[0]!.steps.at(-1)![0];
    const sums = day_sums(with_lines(ctx, made.lines), id, on, true);
    if (!sums || sums.extra.me || permille(sums.got.me, sums.need.me) <= most) return made;
    if (g - at.step_g <= at.from_g) return { ...made, lines: [] };
    made = raised(g - at.step_g);
  }
  return made;
}
