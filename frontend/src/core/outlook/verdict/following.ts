import { div } from "../../base/ints.ts";
import type { Mark } from "../../state/view.ts";
import { ACT_AIM_PM, ACT_KEPT_OFF_PM, AHEAD_D, REST_SCORE_D, THREE_D, WEEK_D } from "../../tables/numbers.ts";
import { confirmed, day_sums, permille } from "../balance/balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import type { Nutrient, Sums } from "../ground/shapes.ts";
import { state_of } from "./verdicts.ts";

/**
 * An act somebody put into the plan: while she is fed by it, and it still comes to what it promised, its word says
 * nothing new. A week's sums hold the days before it, and a score moves slower still.
 */
export type Way = "up" | "down";

/** Acts for a nutrient that rest on her, by the day from which all of it shows in her sums. */
export function resting_acts(ctx: Context, id: string, of: Nutrient, way: Way): Mark[] {
  return followed(ctx, id, of, way).filter((mark) => ctx.day <= last_rest(mark));
}

/** Days since she began to be fed by an act that takes flesh off her; null where she follows none. */
export function slimmed_by_act_d(ctx: Context, id: string): number | null {
  const days = followed(ctx, id, "me", "down").map(({ on }) => Math.max(0, days_between(on, ctx.day)));
  return days.length ? Math.min(...days) : null;
}

function last_rest({ on, by_on }: Mark): string {
  const [a, b] = [shift(on, AHEAD_D), shift(by_on || on, WEEK_D)];
  return a > b ? a : b;
}

function followed(ctx: Context, id: string, of: Nutrient, way: Way): Mark[] {
  const subjects = [...new Set([id, ctx.doe(id).pen])].filter(Boolean);
  const marks = subjects.flatMap((subject) => ctx.plans.get(subject) ?? []).flatMap((ration) => ration.marks);
  const same = (mark: Mark) => mark.of === of && (way === "up") === mark.to_pm > mark.from_pm;
  const since = shift(ctx.day, -REST_SCORE_D);
  const lately = marks.filter((mark) => mark.act && mark.on > since && same(mark));
  return lately.filter((mark) => promises(ctx, id, of, way, mark) && eaten(ctx, id, of, way, mark.on));
}

/** By the plan as it is now she comes to what it promised, and that is enough. */
function promises(ctx: Context, id: string, of: Nutrient, way: Way, { by_on, to_pm }: Mark): boolean {
  const on = by_on > ctx.day ? by_on : shift(ctx.day, 1);
  const sums = day_sums(ctx, id, on, true);
  if (sums === null) return false;
  const pm = permille(sums.got[of], sums.need[of]);
  if (way === "down" ? pm > to_pm + ACT_KEPT_OFF_PM : pm < to_pm - ACT_KEPT_OFF_PM) return false;
  return of === "me" ? way === "down" || pm >= ACT_AIM_PM.later : level(ctx, id, of, sums, pm, on);
}

function level(ctx: Context, id: string, of: Nutrient, sums: Sums, pm: number, on: string): boolean {
  return state_of(ctx, id, of, { ...sums, days: 1 }, pm, on) === "level";
}

/** On the last days that were confirmed since it began she got what the plan says, or farther that way. */
function eaten(ctx: Context, id: string, of: Nutrient, way: Way, since: string): boolean {
  return fed_days(ctx, since, id).every((on) => {
    const [got, planned] = [false, true].map((each) => day_sums(ctx, id, on, each)?.got[of] ?? 0) as [number, number];
    const off = div(planned * ACT_KEPT_OFF_PM, 1000);
    return way === "down" ? got <= planned + off : got >= planned - off;
  });
}

/** That she gets no less than an act says which eases her feed. */
export function no_less(ctx: Context, id: string, { on }: Mark): boolean {
  return eaten(ctx, id, "me", "up", on);
}

function fed_days(ctx: Context, since: string, id: string): string[] {
  const last = Array.from({ length: THREE_D }, (_, k) => shift(ctx.day, -k));
  return last.filter((on) => on >= since && confirmed(ctx, id, on));
}
