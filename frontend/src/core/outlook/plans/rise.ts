import { div } from "../../base/ints.ts";
import type { Step } from "../../state/view.ts";
import { changes_of, type ActLine } from "../acts/shapes.ts";
import { grams_of, nearest_parts, parts_of } from "../acts/containers.ts";
import { on_hand, eaten_by_all } from "../acts/on_hand.ts";
import { day_sums, eaten_on, permille } from "../balance/balance.ts";
import { gate, found_between } from "../gates/gates.ts";
import type { Finding } from "../gates/change.ts";
import { grain_g } from "../feeding/sharing.ts";
import { has_plan, planned_slots } from "../feeding/plan.ts";
import { shift, type Context } from "../ground/context.ts";
import { GRAIN_ROUND_G, PLAN_LEGUME_MOST, ROUND_G } from "../../tables/numbers.ts";
import { as_fed, grain_slots, grains_for, lines_for, with_lines } from "./places.ts";

/** Grain raised by her own steps from a day on, as far as every gate lets it, with the legume that goes with it. */
export interface Rise {
  lines: ActLine[];
  stops: Finding[];
  to_g: number;
  legume: string;
}

export interface Wanted {
  id: string;
  feed: string;
  slots: string[];
  first_on: string;
  aim_g: number;
  /** No step on or after this day, "" where any may. */
  before: string;
  /** Whether calcium is brought up to her need along with it. */
  calcium: boolean;
}

/** The grain it is made with and the feedings it is given at; or why nothing can be raised. */
export function at_hand(ctx: Context, id: string, grain: string): AtHand {
  const feeds = grains_for(ctx, id);
  const [feed, slots] = [feeds.includes(grain) ? grain : (feeds[0] ?? ""), grain_slots(ctx, id)];
  const fed = slots.length > 0 && has_plan(ctx, id, shift(ctx.day, 1));
  return { feed, slots, none: !feed ? "no_grain" : fed ? "" : "no_meals" };
}

export interface AtHand {
  feed: string;
  slots: string[];
  none: "" | "no_grain" | "no_meals";
}

/** How many of her steps lie between two amounts. */
export function steps_between(ctx: Context, id: string, from_g: number, to_g: number): number {
  const { step_g } = ctx.outlooks[id]!.limits;
  return Math.max(0, div(to_g - from_g + step_g - 1, step_g));
}

/** Nearer than half a step is there. */
export const is_there = (ctx: Context, id: string, g: number, aim_g: number): boolean =>
  g + div(ctx.outlooks[id]!.limits.step_g, 2) >= aim_g;

export function rise(ctx: Context, wanted: Wanted): Rise {
  const plain = grain_lines(ctx, wanted);
  if (!wanted.calcium) return plain;
  return with_legume(ctx, wanted, plain) ?? plain;
}

/** What the gate itself offers in the place of all at once. */
function grain_lines(ctx: Context, { id, feed, slots, first_on, aim_g, before }: Wanted): Rise {
  const others = eaten_on(ctx, id, first_on, true).day_g - given_g(ctx, { id, feed, slots, first_on });
  const g = in_hand(ctx, feed, as_fed(ctx, feed, slots, Math.max(0, aim_g - others)));
  const change = { subject: id, feed, slots, steps: [[first_on, g]] as Step[] };
  const judged = gate(ctx, change);
  const all = judged.findings.length ? judged.safe : change.steps;
  const steps = no_crumbs(all.filter(([on]) => !before || on < before));
  const to_g = others + (steps.length ? dry_g(ctx, feed, slots, steps.at(-1)![1]) : 0);
  const lines = steps.length ? lines_for(ctx, id, feed, slots, steps) : [];
  return { lines, stops: judged.findings.length ? judged.left : [], to_g, legume: "" };
}

/** A last step of a few grams is none. */
function no_crumbs(steps: Step[]): Step[] {
  const [last, before] = [steps.at(-1)?.[1] ?? 0, steps.at(-2)?.[1] ?? 0];
  return steps.length > 1 && last > before && last - before < GRAIN_ROUND_G + 1 ? steps.slice(0, -1) : steps;
}

/** In whole parts of her container where those come near it, else by the scale, no more than it is. */
function in_hand(ctx: Context, feed: string, g: number): number {
  const [part, scale = part] = parts_of(ctx, feed);
  if (!part) return g;
  const near = grams_of(part, nearest_parts(part, g));
  return Math.abs(near - g) * 10 <= g ? near : grams_of(scale!, div(g * scale!.parts, scale!.container_g));
}

const dry_g = (ctx: Context, feed: string, slots: string[], g: number): number =>
  grain_g(ctx, [[feed, g * slots.length]]);

type Place = Pick<Wanted, "id" | "feed" | "slots" | "first_on">;

/** What she gets of this feed at these meals by the plan as it is. */
function given_g(ctx: Context, { id, feed, slots, first_on }: Place): number {
  const g = slots.map((slot) => lines_for(ctx, id, feed, [slot], [[shift(first_on, 1), 0]])[0]!.from_g);
  return grain_g(ctx, g.map((each) => [feed, each]));
}

/**
 * Grain brings almost no calcium: where her need would be left short at the end of the steps, the least legume that
 * mends it, rising with each of them, put in so that no gate asks about either.
 */
function with_legume(ctx: Context, wanted: Wanted, plain: Rise): Rise | null {
  const { id } = wanted;
  const dates = dates_of(ctx, wanted);
  const last = dates.at(-1);
  if (!last) return null;
  const enough = (then: Context) => calcium_pm(then, id, last) >= 1000 && lasts(then, wanted, last);
  if (!plain.stops.some(({ code }) => code === "calcium_fall") && enough(with_lines(ctx, plain.lines))) return null;
  const meals = planned_slots(ctx, id, shift(ctx.day, 1)).slice(0, 2);
  const round = Math.min(...ROUND_G.forage);
  let best: Rise | null = null;
  for (const feed of legumes(ctx, id).slice(0, 2)) {
    for (let n = 1; n <= PLAN_LEGUME_MOST; n++) {
      const legume = legume_lines(ctx, wanted, feed, meals, n * round, dates);
      const grain = grain_lines(with_lines(ctx, legume), wanted);
      const lines = [...legume, ...grain.lines];
      const then = with_lines(ctx, lines);
      if (!grain.lines.length || found_between(ctx, then, changes_of(lines)).length) continue;
      const found = { ...grain, lines, legume: feed };
      if (enough(then) && !grain.stops.length) return found;
      if (!best || found.to_g > best.to_g) best = found;
    }
  }
  return best && (best.to_g > plain.to_g || !plain.stops.length) ? best : null;
}

/** She eats less from day to day: what is enough with the last step has to be near it still when she kids. */
function lasts(then: Context, { id, before }: Wanted, last: string): boolean {
  return before <= last || calcium_pm(then, id, shift(before, -1)) >= 1000 - then.rule("calcium_late_pm");
}

/** On which her grain would rise, could it rise all the way. */
function dates_of(ctx: Context, { id, first_on, aim_g, before }: Wanted): string[] {
  const { step_g, step_days } = ctx.outlooks[id]!.limits;
  const more = aim_g - eaten_on(ctx, id, first_on, true).day_g;
  const n = Math.max(0, div(more + step_g - 1, step_g));
  return Array.from({ length: n }, (_, k) => shift(first_on, k * step_days)).filter((on) => !before || on < before);
}

function legumes(ctx: Context, id: string): string[] {
  const hers = new Set((ctx.plans.get(id) ?? []).map(({ feed }) => feed));
  return on_hand(ctx)
    .filter((feed) => ctx.feed(feed)!.class === "legume" && eaten_by_all(ctx, [id], feed))
    .sort((a, b) => Number(hers.has(b)) - Number(hers.has(a)));
}

/** With each grain step its part of the legume. */
function legume_lines(
  ctx: Context, { id }: Wanted, feed: string, meals: string[], more_g: number, dates: string[],
): ActLine[] {
  return meals.flatMap((slot) => {
    const { from_g } = lines_for(ctx, id, feed, [slot], [[dates[0]!, 0]])[0]!;
    const round = Math.min(...ROUND_G.forage);
    const steps = dates
      .map((on, k): Step => [on, from_g + round * div(div(more_g * (k + 1), dates.length) + round - 1, round)])
      .filter(([, g], k, all) => g !== (k ? all[k - 1]![1] : from_g));
    return steps.length ? lines_for(ctx, id, feed, [slot], steps) : [];
  });
}

export function calcium_pm(ctx: Context, id: string, on: string): number {
  const sums = day_sums(ctx, id, on, true);
  return sums ? permille(sums.got.ca, sums.need.ca) : 1000;
}
