import { compareText } from "../../events/order.ts";
import { day_limit, grain_for_milk } from "../balance/grain.ts";
import { day_sums, eaten_on, permille } from "../balance/balance.ts";
import { standing } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { RAMP_D } from "../../tables/numbers.ts";
import type { ActLine } from "../acts/shapes.ts";
import { held, ready } from "./close_up.ts";
import { tried_on_mates } from "./mates.ts";
import { as_planned, as_she_stands, given_to, one_after_the_other, own_context, with_lines } from "./places.ts";
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
  const { step_g } = ctx.outlooks[id]!.limits;
  const beyond = told.to_g > told.aim_g + step_g ? stopped(ctx, id, told.aim_g) : [];
  if (beyond.length) return { ...told, lines: beyond, short: "milk" };
  if (is_there(ctx, id, told.to_g, told.aim_g)) return { ...told, none: "enough" };
  if (hand.none) return { ...told, none: hand.none };
  const before = as_she_stands(ctx, id);
  const [own, { aim_g, from_g, first_on }] = [with_lines(own_context(ctx), before), told];
  // calcium follows milk up as it followed it down
  const raised = (g: number) => rise(own, { id, ...hand, first_on, aim_g: g, before: "", calcium: true });
  const { lines, stops, to_g, legume } = to_need(own, id, raised, { from_g, aim_g, step_g });
  const less = to_g + step_g <= aim_g && !stops.length;
  const [short, none] = [stops.length ? "gate" : less ? "need" : told.short, lines.length || stops.length];
  const all = lines.length ? one_after_the_other(before, lines) : [];
  const tried = tried_on_mates(own_context(ctx), id, all);
  return { ...told, stops, to_g, legume, short, none: none ? "" : "enough", ...tried };
}

function kidded_lately(ctx: Context, id: string): boolean {
  const { kidded, bred, dried_on } = ctx.doe(id);
  return kidded !== null && !bred && !dried_on && days_between(kidded.on, ctx.day) <= RAMP_D;
}

/** From what to what: by the milk to come, as far as her meals and her day hold it. */
function aimed(ctx: Context, id: string, { feed, slots }: AtHand): RisePlan {
  const { limits } = ctx.outlooks[id]!;
  const [{ milk_g, g: by_milk }, tomorrow] = [grain_for_milk(ctx, id), shift(ctx.day, 1)];
  const aim_g = Math.min(by_milk, day_limit(ctx, id, tomorrow), limits.grain_meal_g * Math.max(1, slots.length));
  const from_g = eaten_on(ctx, id, tomorrow, true).day_g;
  const steps = steps_between(ctx, id, from_g, aim_g);
  return {
    ...NO_PLAN, code: "plan_fresh", doe: id, none: "", short: aim_g < by_milk ? "meals" : "", milk_g, aim_g, from_g,
    first_on: ready(ctx, id, shift(ctx.doe(id).kidded!.on, limits.step_days)), steps, fit: steps, grain: feed,
    to_g: eaten_on(ctx, id, shift(ctx.day, RAMP_D), true).day_g, held_on: held(ctx, id), loss_g: 0, loss_x100: 0,
  };
}

/** She gives less than was thought when it was planned: her steps end where they come to what her milk takes. */
function stopped(ctx: Context, id: string, aim_g: number): ActLine[] {
  const ahead = Array.from({ length: RAMP_D }, (_, k) => shift(ctx.day, k + 1));
  const grain = (on: string) => eaten_on(ctx, id, on, true).day_g;
  const on = ahead.find((each) => grain(each) > aim_g && grain(each) > grain(shift(each, -1)));
  if (!on) return [];
  const own = own_context(ctx);
  return given_to(own, id).filter(({ feed }) => is_grain(own.feed(feed))).map(({ subject, slot, feed }): ActLine => {
    const g = as_planned(own, id, slot, feed, shift(on, -1));
    return { subject, to: "doe", slot, feed, from_g: g, steps: [[on, g]] };
  });
}

/** As far as the herd's rule goes; a step less where the hay she gets makes it more than she needs. */
function to_need(
  ctx: Context, id: string, raised: (g: number) => Rise, at: { from_g: number; aim_g: number; step_g: number },
): Rise {
  const most = 1000 + ctx.rule("level_pm");
  let made = raised(at.aim_g);
  for (let g = at.aim_g; made.lines.length; g -= at.step_g) {
    const on = made.lines.flatMap(({ steps }) => steps.at(-1)![0]).sort(compareText).at(-1)!;
    const sums = day_sums(with_lines(ctx, made.lines), id, on, true);
    if (!sums || sums.extra.me || permille(sums.got.me, sums.need.me) <= most) return made;
    if (g - at.step_g <= at.from_g) return { ...made, lines: [] };
    made = raised(g - at.step_g);
  }
  return made;
}
