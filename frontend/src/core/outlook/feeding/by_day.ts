import { compareText } from "../../events/order.ts";
import { amount_on } from "../../state/planned.ts";
import type { Calibration, Ration, Step, View } from "../../state/view.ts";
import { days_between, once, shift, type Context } from "../ground/context.ts";
import type { Unweighed } from "../ground/shapes.ts";
import { measures_of, old_since } from "./measures.ts";

/** What a line of the plan comes to by day, once what kept its raises waiting is over. */

type ByDay = (on: string) => number;

/**
 * Raises that waited for a weight go on one by one from where they stood: those that were missed do not come at once.
 * Steps toward kidding end with it, wherever they had come to: grain after it is a plan of its own.
 */
export function by_day_of(ctx: Context, ration: Ration): ByDay {
  const moved = waits_of(ctx, ration).reduce(gone_on, (on: string) => amount_on(ration.steps, on));
  return ended_by_kidding(ctx, ration, moved);
}

const STAMP_MS = 12;
/** When somebody planned it, by the stamp. */
const planned_ms = (hlc: string): number => parseInt(hlc.slice(0, STAMP_MS), 16) || 0;

/** From the first raise that waited until the day it was weighed, at no more than before it. */
interface Wait {
  first: string;
  until: string;
  most: number;
  days: number;
}

function waits_of(ctx: Context, { steps, feed, hlc }: Ration): Wait[] {
  const all = unweighed(ctx, feed);
  if (!all.length) return [];
  return all.filter(({ at }) => planned_ms(hlc) <= at).reduce<Wait[]>((found, one) => {
    const wait = waited(steps, found, one);
    return wait ? [...found, wait] : found;
  }, []);
}

function waited(steps: Step[], before: Wait[], { since, until }: Unweighed): Wait | null {
  const by_day = before.reduce(gone_on, (on: string) => amount_on(steps, on));
  const starts = steps.flatMap(([on]) => sums_of(before).map((days) => shift(on, days)));
  const days = [since, ...starts.filter((on) => on > since && on < until).sort(compareText)];
  // what starts from nothing starts, by an old weight too
  const most = by_day(shift(since, -1)) || (days.map(by_day).find((g) => g > 0) ?? 0);
  const first = days.find((on) => by_day(on) > most);
  return first ? { first, until, most, days: days_between(first, until) } : null;
}

function gone_on(by_day: ByDay, { first, until, most, days }: Wait): ByDay {
  return (on) => {
    if (on < first) return by_day(on);
    return on < until ? Math.min(by_day(on), most) : Math.min(by_day(on), by_day(shift(on, -days)));
  };
}

/** By how many days raises come later because of it, and with each wait before the next: none where none waited. */
export const put_off_d = (ctx: Context, ration: Ration): number[] => sums_of(waits_of(ctx, ration));

const sums_of = (waits: Wait[]): number[] =>
  waits.reduce<number[]>((sums, { days }) => [...sums, sums.at(-1)! + days], [0]);

function ended_by_kidding({ view }: Context, { subject, marks, hlc }: Ration, by_day: ByDay): ByDay {
  const kidded = Object.hasOwn(view.does, subject) ? view.does[subject]!.kidded : null;
  const mark = marks.at(-1);
  if (!kidded || mark?.act !== "plan_close_up" || mark.on > kidded.on || planned_ms(hlc) > kidded.at) return by_day;
  return (on) => (on > kidded.on ? Math.min(by_day(on), by_day(kidded.on)) : by_day(on));
}

/** In the order in which they were ended. */
function unweighed(ctx: Context, feed: string): Unweighed[] {
  return once(ctx.memo.unweighed, feed, () => ended(ctx.view, feed, ctx.day, ctx.rule_or_ours("weigh_again_d")));
}

/** Each weighing is held against the weights there were before it. */
function ended(view: View, feed: string, today: string, keep_d: number): Unweighed[] {
  const all = measures_of(view, feed, today, keep_d).flatMap(({ id }) => view.calibrations[id] ?? []);
  return [...all].sort((a, b) => a.happened - b.happened).flatMap((one) => {
    const since = one.on <= today ? old_since(before(view, one), feed, one.on, keep_d) : "";
    return since && since < one.on ? [{ since, until: one.on, at: one.happened }] : [];
  });
}

function before(view: View, { happened }: Calibration): View {
  const kept = Object.entries(view.calibrations)
    .map(([id, rows]): [string, Calibration[]] => [id, rows.filter((one) => one.happened < happened)]);
  return { ...view, calibrations: Object.fromEntries(kept) };
}
