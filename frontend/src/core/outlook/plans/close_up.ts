import { div, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { CHOICES } from "../../tables/rules_offered.ts";
import { CLOSE_UP_SEEN_D, RISK_KIDS } from "../../tables/numbers.ts";
import { day_sums, eaten_on } from "../balance/balance.ts";
import { body_need } from "../balance/score_ahead.ts";
import { standing, slot_for } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { frozen } from "../ground/freeze.ts";
import { milk_on } from "../feeding/needs.ts";
import type { ActLine } from "../acts/shapes.ts";
import { tried_on_mates } from "./mates.ts";
import { as_she_stands, one_after_the_other, own_context, with_lines } from "./places.ts";
import { at_hand, is_there, rise, steps_between } from "./rise.ts";
import { NO_PLAN, type RisePlan } from "./shapes.ts";

const NOTHING: Omit<RisePlan, "code" | "doe"> = {
  ...NO_PLAN, none: "", first_on: "", short: "", steps: 0, fit: 0, held_on: "", milk_g: 0, loss_g: 0, loss_x100: 0,
};

/** From the start of her close-up, in her own steps, to half of what she will get in milk. Null: not carrying. */
export function close_up_plan(ctx: Context, id: string, grain = ""): RisePlan | null {
  if (!ctx.doe(id).bred || standing(ctx, id) !== "ok" || !ctx.outlooks[id]?.due) return null;
  const first_on = ctx.outlooks[id].steps[0]?.on ?? "";
  const plan: RisePlan = { ...NOTHING, code: "plan_close_up", doe: id, first_on };
  const early = too_early(ctx, id, first_on);
  if (early) return { ...plan, none: early };
  const hand = at_hand(ctx, id, grain);
  const told = { ...plan, ...aimed(ctx, id, first_on), grain: hand.feed, held_on: held(ctx, id) };
  if (is_there(ctx, id, told.to_g, told.aim_g)) return { ...told, ...lost(ctx, ctx, id), none: "enough" };
  if (hand.none) return { ...told, none: hand.none };
  const before = as_she_stands(ctx, id);
  const [own, { mid }] = [with_lines(own_context(ctx), before), ctx.outlooks[id].due];
  const calcium = ctx.rule_or_ours("calcium_before_kidding") !== CHOICES.calcium_before_kidding.lower;
  const wanted = { id, ...hand, first_on: told.first_on, aim_g: told.aim_g, before: mid, calcium };
  const { lines, stops, to_g, legume } = rise(own, wanted);
  const all = lines.length ? one_after_the_other(before, lines) : [];
  const [fit, more] = [steps_in(lines, hand.feed), is_there(ctx, id, to_g, told.aim_g) ? 0 : told.aim_g - to_g];
  const steps = fit + steps_between(ctx, id, 0, more);
  const short = stops.length ? "gate" : more > 0 ? "days" : "";
  const tried = tried_on_mates(own_context(ctx), id, all);
  return { ...told, stops, to_g, legume, short, fit, steps, ...lost(ctx, with_lines(own, lines), id), ...tried };
}

/** On how many days her grain rises. */
const steps_in = (lines: ActLine[], feed: string): number =>
  new Set(lines.filter((line) => line.feed === feed).flatMap(({ steps }) => steps.map(([on]) => on))).size;

/** While she is milked her grain goes by her milk; long before, nothing is to be done yet; past her dates, no more. */
function too_early(ctx: Context, id: string, first: string): "" | "not_now" | "milked" | "overdue" {
  if (ctx.day > ctx.outlooks[id]!.due!.late) return "overdue";
  if (milk_on(ctx, id, ctx.day) > 0) return "milked";
  return first !== "" && days_between(ctx.day, first) <= CLOSE_UP_SEEN_D ? "" : "not_now";
}

type Aimed = Pick<RisePlan, "first_on" | "aim_g" | "from_g" | "to_g" | "steps" | "fit">;

/** From what to what, by her plan as it is, and how many steps that takes and leaves room for. */
function aimed(ctx: Context, id: string, first: string): Aimed {
  const { due, limits, steps: rule } = ctx.outlooks[id]!;
  const most = rule.at(-1)!.g;
  const aim_g = Math.min(most, half_of_milk(ctx, id) || most);
  const from_g = eaten_on(ctx, id, shift(ctx.day, 1), true).day_g;
  const first_on = ready(ctx, id, first);
  const fit = Math.max(0, div(days_between(first_on, due!.mid) + limits.step_days - 1, limits.step_days));
  const [to_g, steps] = [planned_end(ctx, id, due!.mid), steps_between(ctx, id, from_g, aim_g)];
  return { first_on, aim_g, from_g, to_g, steps, fit };
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
  if (!who) return 0;
  const kids = Math.min(RISK_KIDS, Math.max(1, div(who.litter_x100 + div(100, 2), 100)));
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
