import { addDays, dayOf } from "../../base/days.ts";
import { div, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { amount_on } from "../../state/planned.ts";
import { FILL_CAN_G, FILL_TIMES_X10, FILLS_LEAST } from "../../tables/numbers.ts";
import type { Bag, Calibration, RecordRow, Step, View } from "../../state/view.ts";

/** What a scoop or a flake holds, as somebody weighed it, and whether that still stands. Whole grams, no clock. */
export type Of = keyof typeof FILLS_LEAST;
export type Old = "" | "bag" | "lot" | "age";

/** A scoop can be marked on its side at its quarters. */
export const QUARTERS = 4;

export interface Mean {
  g: number;
  low: number;
  high: number;
  /** The fill furthest from the mean, permille of the mean. */
  off_pm: number;
}

export function mean_of(fills_g: number[]): Mean | null {
  const total = sum(fills_g);
  if (fills_g.length === 0 || total <= 0) return null;
  const g = div(2 * total + fills_g.length, 2 * fills_g.length);
  const [low, high] = [Math.min(...fills_g), Math.max(...fills_g)];
  return { g, low, high, off_pm: div(1000 * Math.max(high - g, g - low), g) };
}

/** The first fill that cannot be, and the middle one it was held against; 0 where nothing of the kind weighs so. */
export function odd_fill(of: Of, fills_g: number[]): { place: number; g: number; middle_g: number } | null {
  const [low, high] = FILL_CAN_G[of];
  const beyond = fills_g.findIndex((g) => g < low || g > high);
  if (beyond >= 0) return { place: beyond, g: fills_g[beyond]!, middle_g: 0 };
  const middle_g = [...fills_g].sort((a, b) => a - b)[fills_g.length >> 1] ?? 0;
  const [times_x10, middle_x10] = [FILL_TIMES_X10[of], middle_g * 10];
  const far = fills_g.findIndex((g) => g * 100 > middle_x10 * times_x10 || g * times_x10 < middle_x10);
  return far < 0 || fills_g.length < 3 ? null : { place: far, g: fills_g[far]!, middle_g };
}

/**
 * To the nearest quarter that can be marked on the side; null when that is none at all. off_g: more than asked, or
 * less.
 */
export function nearest_quarter(g: number, scoop_g: number): { quarters: number; off_g: number } | null {
  const quarters = scoop_g > 0 ? div(8 * g + scoop_g, 2 * scoop_g) : 0;
  return quarters > 0 ? { quarters, off_g: div(quarters * scoop_g + 2, 4) - g } : null;
}

/** A scoop, flake or bale with its last weight: g is 0 where nobody weighed it for this feed. */
export interface Measure extends Mean {
  id: string;
  of: Of;
  on: string;
  author: string;
  ev: string;
  old: Old;
  /** The day it went old; "" while it stands. */
  since: string;
}

/** The feed itself, and the feed it is a lot of. */
export function refs(view: View, feed: string): string[] {
  const parent = view.lots[feed]?.f["feed"];
  return typeof parent === "string" && parent ? [feed, parent] : [feed];
}

/** When the last bag or load of any of these was opened. */
export function last_bag(view: View, feeds: string[]): Bag | null {
  const bags = feeds.flatMap((feed) => view.bags[feed] ?? []);
  return bags.reduce<Bag | null>((last, bag) => (last && last.happened >= bag.happened ? last : bag), null);
}

/** Days on which something made a weighing old, each with what it was; the most telling first. */
function olden(
  view: View, feeds: string[], { on, happened }: Weighing, lots: string[], today: string, keep_d: number,
): [Old, string][] {
  const bags = feeds.flatMap((feed) => view.bags[feed] ?? []).filter((bag) => bag.happened > happened);
  const aged = dayOf(today) - dayOf(on) > keep_d ? [addDays(on, keep_d + 1)] : [];
  const as = (old: Old, days: string[]) => days.map((day): [Old, string] => [old, day]);
  return [...as("bag", bags.map((bag) => bag.on)), ...as("lot", lots), ...as("age", aged)];
}

type Weighing = Pick<Calibration, "on" | "happened">;

/** Whether a weighing still stands, and since when it does not. */
function standing(days: [Old, string][]): Pick<Measure, "old" | "since"> {
  return { old: days[0]?.[0] ?? "", since: days.map(([, day]) => day).sort()[0] ?? "" };
}

const opened_on = (view: View, feed: string) => String(view.lots[feed]?.f["opened_on"] ?? "");
const UNWEIGHED: Mean = { g: 0, low: 0, high: 0, off_pm: 0 };

function last_weighing(view: View, id: string, of: Of, feeds: string[]): Calibration | undefined {
  return view.calibrations[id]?.filter((one) => one.of === of && (one.lot === "" || feeds.includes(one.lot))).at(-1);
}

/** The last weight of one scoop or lot that was of these feeds. */
export function measured(view: View, id: string, of: Of, feeds: string[], today: string, keep_d: number): Measure {
  const last = last_weighing(view, id, of, feeds);
  const mean = last && mean_of(last.fills_g);
  if (!mean) return { id, of, ...UNWEIGHED, on: "", author: "", ev: "", ...standing([]) };
  const days = olden(
    view, feeds, last, feeds.map((feed) => opened_on(view, feed)).filter((day) => day > last.on), today, keep_d,
  );
  return { id, of, ...mean, on: last.on, author: last.author, ev: last.ev, ...standing(days) };
}

export const fresh = ({ g, old }: Measure): boolean => g > 0 && old === "";

/** Scoops kept for a feed, in the farm's own order; put away ones are not among them. */
export function scoops_for(view: View, feed: string, today: string, keep_d: number): Measure[] {
  const feeds = refs(view, feed);
  const kept = Object.values(view.scoops).filter(
    ({ f }) => f["gone"] !== true && feeds.includes(String(f["feed"] ?? "")),
  );
  return kept.sort(in_order).map(({ id }) => measured(view, id, "scoop", feeds, today, keep_d));
}

const in_order = (a: RecordRow, b: RecordRow) => place_of(a) - place_of(b) || compareText(a.id, b.id);
const place_of = ({ f }: RecordRow) => Number(f["order"] ?? 0);

export interface Scooped {
  measure: Measure;
  quarters: number;
  off_g: number;
}

/** An amount in the scoop that comes nearest to it: a fresh weight before an old one, then by the farm's order. */
export function scooped(measures: Measure[], g: number): Scooped | null {
  let best: Scooped | null = null;
  for (const measure of measures) {
    const found = nearest_quarter(g, measure.g);
    if (found && (!best || nearer({ measure, ...found }, best))) best = { measure, ...found };
  }
  return best;
}

function nearer(a: Scooped, b: Scooped): boolean {
  if (fresh(a.measure) !== fresh(b.measure)) return fresh(a.measure);
  return Math.abs(a.off_g) < Math.abs(b.off_g);
}

/** What a flake of a lot is taken to weigh, however old; 0 where nobody knows. */
export function flake_g(view: View, lot: string): number {
  const last = last_weighing(view, lot, "flake", [lot]);
  return (last && mean_of(last.fills_g)?.g) || Number(view.lots[lot]?.f["flake_g"] ?? 0);
}

/** A flake of a lot: weighed, or as typed into its record, which counts as weighed when it was typed. */
export function flake_of(view: View, lot: string, today: string, keep_d: number): Measure {
  const weighed = measured(view, lot, "flake", [lot], today, keep_d);
  const row = view.lots[lot];
  const g = Number(row?.f["flake_g"] ?? 0);
  return weighed.g || !row || !(g > 0) ? weighed : { ...weighed, ...typed(view, row, g, today, keep_d) };
}

function typed(view: View, { id, stamp, by }: RecordRow, g: number, today: string, keep_d: number): Partial<Measure> {
  const at = (key: string) => parseInt((stamp[key] ?? "").slice(0, 12), 16) || 0;
  const [happened, opened] = [at("flake_g"), at("opened_on")];
  const on = day_of(happened);
  const days = olden(view, [id], { on, happened }, opened > happened ? [day_of(opened)] : [], today, keep_d);
  return { g, low: g, high: g, on, ev: by["flake_g"] ?? "", ...standing(days) };
}

const day_of = (ms: number) => new Date(ms).toISOString().slice(0, 10);

/** Every weight an amount of this feed may be given by. */
export function measures_of(view: View, feed: string, today: string, keep_d: number): Measure[] {
  const flakes = view.lots[feed] ? [flake_of(view, feed, today, keep_d)] : [];
  return [...scoops_for(view, feed, today, keep_d), ...flakes].filter(({ g }) => g > 0);
}

/**
 * The day the last weight of a feed went old, so that nothing may be raised by it; "" while one stands, or where none
 * was ever made.
 */
export function old_since(view: View, feed: string, today: string, keep_d: number): string {
  const measures = measures_of(view, feed, today, keep_d);
  return measures.some(fresh) ? "" : measures.map(({ since }) => since).sort().at(-1) ?? "";
}

/** The first step that gives more than the ration in force says for that day: a raise. -1 where there is none. */
export function first_raise(held: Step[], steps: Step[]): number {
  return steps.findIndex(([on, g]) => g > amount_on(held, on));
}
