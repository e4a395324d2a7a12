import { div, sum } from "../../base/ints.ts";
import { amount_on, place_key } from "../../state/planned.ts";
import type { Step } from "../../state/view.ts";
import { days_between, shift, SLOTS, type Context } from "../ground/context.ts";
import { is_forage, is_grain } from "../ground/feed_classes.ts";
import { day_limit } from "../balance/grain.ts";
import { flake_g, fresh, QUARTERS, scoops_for } from "../feeding/measures.ts";
import { plan_lines } from "../feeding/plan.ts";
import { grain_g } from "../feeding/sharing.ts";
import { ROUND_G, STEPS_MOST, SWITCH_WAYS } from "../../tables/numbers.ts";
import { pen_on } from "../../state/where.ts";
import { reached, type Change } from "./change.ts";

/** Slower steps, in amounts of so many grams. */
export interface Path {
  steps: Step[];
  round: number;
  /** What is given before the first of them. */
  from: number;
}

/** Slower ways to the same amount, the quickest first; whether one is safe is for the gate to say. */
export function safe_paths(ctx: Context, change: Change): Path[] {
  const feed = ctx.feed(change.feed);
  const paths = is_grain(feed) ? grain_paths(ctx, change) : is_forage(feed) ? hay_paths(ctx, change) : [];
  return paths.filter(({ steps }) => steps.length > 0 && steps.length <= STEPS_MOST);
}

/** As many of the steps up as pass, the next one as far as it does; no part of a way down is offered. */
export function furthest({ steps, round, from }: Path, passes: (steps: Step[]) => boolean): Step[] {
  if (steps.some(([, g], k) => g < (steps[k - 1]?.[1] ?? from))) return [];
  const kept = greatest(steps.length - 1, (n) => passes(steps.slice(0, n)));
  const [on, g] = steps[kept]!;
  const held = steps[kept - 1]?.[1] ?? from;
  const more = (n: number): Step[] => (n ? [...steps.slice(0, kept), [on, held + n * round]] : steps.slice(0, kept));
  return more(greatest(Math.max(0, div(g - 1 - held, round)), (n) => passes(more(n))));
}

/** The greatest whole number up to a limit that passes, where all below it do; 0 where none does. */
function greatest(limit: number, passes: (n: number) => boolean): number {
  let [low, high] = [0, limit];
  while (low < high) {
    const middle = high - div(high - low, 2);
    if (passes(middle)) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** From tomorrow, for today's feed may lie in the bowl already. */
function start_of({ day }: Context, { steps }: Change): string {
  const tomorrow = shift(day, 1);
  return steps[0]![0] > tomorrow ? steps[0]![0] : tomorrow;
}

function from_g(ctx: Context, { subject, slots, feed }: Change, on: string): number {
  const held = (slot: string) => ctx.view.rations[place_key(subject, slot, feed)]?.steps ?? [];
  return Math.min(...slots.map((slot) => amount_on(held(slot), on)));
}

/** By steps of hers as far apart as the rule has them, in what it is measured by, no farther than her limits. */
function grain_paths(ctx: Context, change: Change): Path[] {
  const does = reached(ctx, change.subject);
  if (does.length === 0) return [];
  const [units, most] = [units_of(ctx, change, does), limit_g(ctx, change, does)];
  const days = Math.max(...does.map((id) => ctx.outlooks[id]!.limits.step_days));
  const from = from_g(ctx, change, ctx.day);
  return units.flatMap(({ unit, round }) =>
    [0, days].map((later) => ({ steps: climb(ctx, change, { unit, days, most, later }), round, from })),
  );
}

interface Climb {
  unit: number;
  days: number;
  most: number;
  /** Days to wait before the first step: the last one may have been yesterday. */
  later: number;
}

function climb(ctx: Context, change: Change, { unit, days, most, later }: Climb): Step[] {
  const first = shift(start_of(ctx, change), later);
  const last = change.steps.at(-1)!;
  let g = from_g(ctx, change, shift(first, -1));
  const steps: Step[] = [];
  for (let on = first; steps.length <= STEPS_MOST; on = shift(on, 1)) {
    const want = Math.min(most, amount_on(change.steps, on));
    const wait = steps.length > 0 && days_between(steps.at(-1)![0], on) < days;
    const next = want < g ? want : wait ? g : Math.min(want, g + unit);
    if (next !== g) steps.push([on, (g = next)]);
    if (on >= last[0] && g === Math.min(most, last[1])) return steps;
  }
  return [];
}

/** Grams of the feed at one feeding that make one step: in quarters of a scoop, else in round grams. */
function units_of(ctx: Context, change: Change, does: string[]): { unit: number; round: number }[] {
  const step = Math.min(...does.map((id) => ctx.outlooks[id]!.limits.step_g));
  const most = div(step * 1000, dry_pm(ctx, change, does));
  const scoop = scoops_for(ctx.view, change.feed, ctx.day, ctx.rule_or_ours("weigh_again_d")).find(fresh);
  const rounds = [...(scoop ? [div(scoop.g, QUARTERS)] : []), ...ROUND_G.grain];
  const fitting = rounds.filter((round) => round > 0 && round <= most);
  return fitting.map((round) => ({ round, unit: round * div(most, round) }));
}

/** Dry grain that reaches one of them, permille of a gram more at each feeding chosen. */
function dry_pm(ctx: Context, { subject, feed, slots }: Change, does: string[]): number {
  const heads = Object.hasOwn(ctx.view.does, subject) ? 1 : does.length;
  return Math.max(1, div(grain_g(ctx, [[feed, 1000 * slots.length]]), heads));
}

/** The most of this feed at one feeding that keeps every meal and every day of everybody under the limit. */
function limit_g(ctx: Context, change: Change, does: string[]): number {
  const per_g = (slots: number) => Math.max(1, dry_pm(ctx, { ...change, slots: change.slots.slice(0, slots) }, does));
  const rooms = does.map((id) => {
    const others = others_of(ctx, change, id);
    const meal = Math.min(...change.slots.map((slot) => ctx.outlooks[id]!.limits.grain_meal_g - others(slot)));
    const day = day_limit(ctx, id, ctx.day) - sum(SLOTS.map(others));
    return Math.min(div(meal * 1000, per_g(1)), div(day * 1000, per_g(change.slots.length)));
  });
  return Math.max(0, Math.min(...rooms));
}

/** Dry grain of other feeds in a meal of hers, as planned today. */
function others_of(ctx: Context, { feed }: Change, id: string): (slot: string) => number {
  const pen = pen_on(ctx.doe(id), ctx.day) || id;
  return (slot) =>
    grain_g(ctx, plan_lines(ctx, pen, ctx.day, slot).filter(([to, what]) => to === id && what !== feed)
      .map(([, what, g]) => [what, g]));
}

/** By equal parts over a week, slower where that is not slow enough; in half flakes, else in round grams. */
function hay_paths(ctx: Context, change: Change): Path[] {
  const start = start_of(ctx, change);
  const [from, to] = [from_g(ctx, change, start), change.steps.at(-1)![1]];
  const flake = flake_g(ctx.view, change.feed);
  const rounds = [...(flake ? [div(flake, 2)] : []), ...ROUND_G.forage];
  return SWITCH_WAYS.flatMap(([parts, days]) =>
    rounds.map((round) => {
      const amounts = Array.from({ length: parts }, (_, k) => rounded(from, to, k + 1, parts, round));
      const steps = amounts
        .map((g, k): Step => [shift(start, div(k * (days - 1), parts - 1)), g])
        .filter(([, g], k) => g !== (k ? amounts[k - 1] : from));
      return { steps, round, from };
    }),
  );
}

/** The last part is the amount itself. */
function rounded(from: number, to: number, part: number, parts: number, round: number): number {
  if (part === parts) return to;
  const g = from + div((to - from) * part, parts);
  return round * div(2 * g + round, 2 * round);
}
