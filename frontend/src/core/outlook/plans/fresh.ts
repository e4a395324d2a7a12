import { div } from "../../base/ints.ts";
import { day_limit } from "../balance/grain.ts";
import { day_sums, eaten_on, permille } from "../balance/balance.ts";
import { standing } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { milk_on } from "../feeding/needs.ts";
import { RAMP_D } from "../../tables/numbers.ts";
import { held, ready } from "./close_up.ts";
import { own_context, with_lines } from "./places.ts";
import { at_hand, is_there, rise, steps_between, type AtHand, type Rise } from "./rise.ts";
import { NO_PLAN, type RisePlan } from "./shapes.ts";

/**
 * Grain after kidding: in her own steps from what she got before it to what the herd gives for so much milk, within
 * her limits and no farther than her need. Null for a doe that has not kidded lately.
 */
export function fresh_plan(ctx: Context, id: string, grain = ""): RisePlan | null {
  if (!kidded_lately(ctx, id) || standing(ctx, id) !== "ok") return null;
  const hand = at_hand(ctx, id, grain);
  const told = aimed(ctx, id, hand);
  if (is_there(ctx, id, told.to_g, told.aim_g)) return { ...told, none: "enough" };
  if (hand.none) return { ...told, none: hand.none };
  const [own, { aim_g, from_g, first_on }] = [own_context(ctx), told];
  const { step_g } = ctx.outlooks[id]!.limits;
  const raised = (g: number) => rise(own, { id, ...hand, first_on, aim_g: g, before: "", calcium: false });
  const { lines, stops, to_g } = to_need(own, id, raised, { from_g, aim_g, step_g });
  const less = to_g + step_g <= aim_g && !stops.length;
  const short = stops.length ? "gate" : less ? "need" : told.short;
  return { ...told, lines, stops, to_g, short, none: lines.length || stops.length ? "" : "enough" };
}

function kidded_lately(ctx: Context, id: string): boolean {
  const { kidded, bred, dried_on } = ctx.doe(id);
  return kidded !== null && !bred && !dried_on && days_between(kidded.on, ctx.day) <= RAMP_D;
}

/** From what to what: by the milk to come, as far as her meals and her day hold it. */
function aimed(ctx: Context, id: string, { feed, slots }: AtHand): RisePlan {
  const { limits } = ctx.outlooks[id]!;
  const [milk_g, tomorrow] = [most_milk(ctx, id), shift(ctx.day, 1)];
  const by_milk = div(milk_g * 10, ctx.rule_or_ours("milk_per_grain_x10"));
  const aim_g = Math.min(by_milk, day_limit(ctx, id, tomorrow), limits.grain_meal_g * Math.max(1, slots.length));
  const from_g = eaten_on(ctx, id, tomorrow, true).day_g;
  const steps = steps_between(ctx, id, from_g, aim_g);
  return {
    ...NO_PLAN, code: "plan_fresh", doe: id, none: "", short: aim_g < by_milk ? "meals" : "", milk_g, aim_g, from_g,
    first_on: ready(ctx, id, shift(ctx.doe(id).kidded!.on, limits.step_days)), steps, fit: steps, grain: feed,
    to_g: eaten_on(ctx, id, shift(ctx.day, RAMP_D), true).day_g, held_on: held(ctx, id), loss_g: 0, loss_x100: 0,
  };
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
