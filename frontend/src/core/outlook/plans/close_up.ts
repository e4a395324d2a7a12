import { div, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { PHASE } from "../../tables/codes.ts";
import { CHOICES } from "../../tables/rules.ts";
import { CLOSE_UP_SEEN_D } from "../../tables/numbers.ts";
import { day_sums, eaten_on } from "../balance/balance.ts";
import { body_need } from "../balance/score_ahead.ts";
import { standing, slot_for } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { frozen } from "../ground/freeze.ts";
import { milk_on } from "../feeding/needs.ts";
import { has_plan } from "../feeding/plan.ts";
import { grain_slots, grains_for, own_context, with_lines } from "./places.ts";
import { rise } from "./rise.ts";
import { NO_PLAN, type RisePlan } from "./shapes.ts";

const NOTHING: Omit<RisePlan, "code" | "doe"> = {
  ...NO_PLAN, none: "", first_on: "", short: "", steps: 0, fit: 0, held_on: "", milk_g: 0, loss_g: 0, loss_x100: 0,
};

/** From the start of her close-up, in her own steps, to half of what she will get in milk. Null: not carrying. */
export function close_up_plan(ctx: Context, id: string, grain = ""): RisePlan | null {
  const [doe, outlook] = [ctx.doe(id), ctx.outlooks[id]];
  if (!doe.bred || standing(ctx, id) !== "ok" || !outlook?.due) return null;
  const plan: RisePlan = { ...NOTHING, code: "plan_close_up", doe: id };
  const { due, steps, limits } = outlook;
  const first = steps[0]?.on ?? "";
  // while she is milked her grain goes by her milk
  if (!first || days_between(ctx.day, first) > CLOSE_UP_SEEN_D || milk_on(ctx, id, ctx.day) > 0 || ctx.day >= due.late)
    return { ...plan, none: "not_now", first_on: first };
  const start = ready(ctx, id, first);
  const feeds = grains_for(ctx, id);
  const [feed, slots] = [feeds.includes(grain) ? grain : feeds[0], grain_slots(ctx, id)];
  const aim_g = Math.min(steps.at(-1)!.g, half_of_milk(ctx, id) || steps.at(-1)!.g);
  const from_g = eaten_on(ctx, id, shift(ctx.day, 1), true).day_g;
  const end = planned_end(ctx, id, due.mid);
  const told = { ...plan, first_on: start, aim_g, from_g, to_g: end, grain: feed ?? "", held_on: held(ctx, id) };
  const wanted = Math.max(0, div(aim_g - from_g + limits.step_g - 1, limits.step_g));
  const fit = Math.max(0, div(days_between(start, due.mid) + limits.step_days - 1, limits.step_days));
  const left = { ...told, steps: wanted, fit };
  if (end + div(limits.step_g, 2) >= aim_g) return { ...left, ...lost(ctx, ctx, id), none: "enough" };
  if (!feed) return { ...left, none: "no_grain" };
  if (!slots.length || !has_plan(ctx, id, shift(ctx.day, 1))) return { ...left, none: "no_meals" };
  const own = own_context(ctx);
  const calcium = ctx.rule_or_ours("calcium_before_kidding") !== CHOICES.calcium_before_kidding.lower;
  const made = rise(own, { id, feed, slots, first_on: start, aim_g, before: due.mid, calcium });
  const short = made.stops.length ? "gate" : wanted > fit ? "days" : "";
  return { ...left, ...made, short, ...lost(ctx, with_lines(own, made.lines), id) };
}

/** Not before its day, nor today, whose feed may lie in the bowl already, nor while her grain is held. */
export function ready(ctx: Context, id: string, first: string): string {
  const held_on = held(ctx, id);
  return [first, shift(ctx.day, 1), held_on ? shift(held_on, 1) : ""].sort(compareText).at(-1)!;
}

export const held = (ctx: Context, id: string): string => frozen(ctx, id)?.until ?? "";

/** Grain of her plan as it is on the last day before she is to kid. */
function planned_end(ctx: Context, id: string, mid: string): number {
  const on = mid > ctx.day ? shift(mid, -1) : shift(ctx.day, 1);
  return eaten_on(ctx, id, on, true).day_g;
}

/** By the litter she is thought to carry, at the height of the milk to come. */
function half_of_milk(ctx: Context, id: string): number {
  const { branches, who } = ctx.outlooks[id]!;
  const kids = Math.min(3, Math.max(1, div((who?.litter_x100 ?? 100) + 50, 100)));
  const branch = branches[`kidded${kids}`];
  return branch ? div(Math.max(...branch.plan_grain_g), 2) : 0;
}

/** What she lays off by her middle date, along a plan. */
function lost(ctx: Context, then: Context, id: string): Pick<RisePlan, "loss_g" | "loss_x100"> {
  const { due, drivers } = ctx.outlooks[id]!;
  const days = Math.max(0, days_between(ctx.day, due!.mid));
  const short = Array.from({ length: days }, (_, k) => shift(ctx.day, k + 1)).map((on) => {
    const sums = day_sums(then, id, on, true);
    return sums && !sums.extra.me && slot_for(then, id, on) ? body_need(then, id, on)[0] - sums.got.me : 0;
  });
  const x100 = drivers.me_kj_per_point_lost ? div(Math.max(0, sum(short)), drivers.me_kj_per_point_lost) : 0;
  return { loss_x100: x100, loss_g: div(x100 * drivers.g_per_unit, 100) };
}

/** Whether she is near enough for the page to be of use. */
export function close_up_near(ctx: Context, id: string): boolean {
  const slot = slot_for(ctx, id, ctx.day);
  const first = ctx.outlooks[id]?.steps[0]?.on ?? "";
  const in_phase = slot !== null && [PHASE.close_up, PHASE.kidding_watch].includes(slot[0].phase[slot[1]] as never);
  return ctx.doe(id).bred !== null && (in_phase || (first !== "" && days_between(ctx.day, first) <= CLOSE_UP_SEEN_D));
}
