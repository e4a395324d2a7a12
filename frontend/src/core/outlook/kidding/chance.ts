import { dayOf, HOUR_MS, MIN_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { NEAR_H, NEAR_LEAST_PPM, TOLD_BACK_D } from "../../tables/numbers.ts";
import type { Due } from "../ground/documents.ts";
import type { Signs } from "../ground/herd_figures.ts";

/**
 * How likely she kids in the hours ahead: the chance of each day by her dates, weighed by what looks at her found. The
 * tables are the server's; here is whole-number arithmetic alone.
 */

/** An instant as the farm's own day and minute of it; the minute may lie outside that day. */
export interface Clock {
  day: string;
  minute: number;
  ms: number;
}

/** What is known of one sign: there, not there, or new within so many hours, as it was at a look. */
export interface Told {
  sign: string;
  how: "present" | "absent" | "new";
  at_ms: number;
  gap_h: number;
}

/** Weights of the first kid's time: how much has come by each end, the last of them the whole. */
export interface Ahead {
  ends_min: number[];
  by: number[];
}

const DAY_MIN = 1440;
const DAY_MS = 24 * HOUR_MS;
const ONE = 1_000_000;
const PPB = 1_000_000_000;
/** Chances are worked in hundredths of a percent. */
const WHOLE = 10_000;

export const clock_at = ({ day, minute, ms }: Clock, at_ms: number): Clock => ({
  day, minute: minute - Math.round((ms - at_ms) / MIN_MS), ms: at_ms,
});

/** Of each sign what is known at an instant; one that nobody mentions at a later look stays as it was. */
export function told_of({ signs, kidded }: Doe, table: Signs, now_ms: number): Told[] {
  const rows = signs.filter(
    ([at]) => at <= now_ms && now_ms - at < TOLD_BACK_D * DAY_MS && (!kidded || at > kidded.at),
  );
  return Object.keys(table.of).flatMap((sign) => told_sign(sign, rows, table));
}

function told_sign(sign: string, rows: Doe["signs"], { gaps_h }: Signs): Told[] {
  const gone = rows.findLastIndex(([, , absent]) => absent.includes(sign));
  const found = rows.find(([, seen], at) => at > gone && seen.includes(sign));
  const before = rows[gone];
  if (!found) return before ? [{ sign, how: "absent", at_ms: before[0], gap_h: 0 }] : [];
  const gap_h = before && gaps_h.find((hours) => found[0] - before[0] <= hours * HOUR_MS);
  return [{ sign, how: gap_h ? "new" : "present", at_ms: found[0], gap_h: gap_h ?? 0 }];
}

/** Null where her dates were not worked out, or are over. */
export function ahead_of(due: Due, table: Signs, told: Told[], clock: Clock): Ahead | null {
  const { day0, ppm } = due;
  if (!day0 || !ppm) return null;
  const from = (dayOf(clock.day) - dayOf(day0)) * DAY_MIN + clock.minute;
  const end = ppm.length * DAY_MIN - from;
  const edges = [...table.lead_min.filter((at) => at < end), end];
  const spans = edges.slice(1).map((to, i) => ({ from: edges[i]!, to }));
  const mass = spans.map((span) => mass_of(ppm, from + span.from, from + span.to));
  if (end <= 0 || added(mass) < NEAR_LEAST_PPM * DAY_MIN) return null;
  const logs = spans.map((span) => log_of(table, told, Math.floor((span.from + span.to) / 2), clock.ms));
  const top = Math.max(...logs);
  let so_far = 0;
  return { ends_min: edges.slice(1), by: mass.map((each, i) => (so_far += each * weight(table, top - logs[i]!))) };
}

const added = (numbers: number[]) => numbers.reduce((sum, each) => sum + each, 0);

/** Millionths times minutes of her dates between two minutes counted from the first of them. */
function mass_of(ppm: number[], from: number, to: number): number {
  let mass = 0;
  for (let day = Math.max(0, Math.floor(from / DAY_MIN)); day < ppm.length && day * DAY_MIN < to; day++)
    mass += ppm[day]! * (Math.min(to, (day + 1) * DAY_MIN) - Math.max(from, day * DAY_MIN));
  return mass;
}

function log_of(table: Signs, told: Told[], lead_min: number, now_ms: number): number {
  return added(told.map((one) => at_lead(table, one, lead_min + Math.floor((now_ms - one.at_ms) / MIN_MS))));
}

/** Of a table, straight between its points. */
function at_lead({ lead_min, gaps_h, of }: Signs, { sign, how, gap_h }: Told, at: number): number {
  const table = of[sign]!;
  const row = how === "new" ? table.new[gaps_h.indexOf(gap_h)]! : table[how];
  const next = lead_min.findIndex((point) => point > at);
  if (next < 0) return row.at(-1)!;
  const [low, high] = [lead_min[next - 1]!, lead_min[next]!];
  return row[next - 1]! + Math.round(((row[next]! - row[next - 1]!) * (at - low)) / (high - low));
}

/** e to the minus so many thousandths, in millionths. */
function weight({ exp_ppb }: Signs, below: number): number {
  if (below >= 2 ** exp_ppb.length) return 0;
  return exp_ppb.reduce((so_far, ppb, bit) => ((below >> bit) & 1 ? Math.floor((so_far * ppb) / PPB) : so_far), ONE);
}

/** Chance of the first kid within some minutes, in hundredths of a percent; straight between two ends. */
export function within({ ends_min, by }: Ahead, minutes: number): number {
  if (minutes <= 0) return 0;
  const unit = Math.max(1, Math.floor(by.at(-1)! / WHOLE));
  const at = ends_min.findIndex((end) => end >= minutes);
  if (at < 0) return WHOLE;
  const [from, sooner] = at ? [ends_min[at - 1]!, by[at - 1]!] : [0, 0];
  const part = Math.floor((by[at]! - sooner) / (ends_min[at]! - from)) * (minutes - from);
  return Math.min(WHOLE, Math.floor((sooner + part) / unit));
}

/** As it is shown: hours and percent, never out of the question and never sure; and what each sign did to a day's. */
export interface Chances {
  hours: [hours: number, pct: number][];
  signs: (Told & { points: number })[];
}

export function chances(doe: Doe, due: Due, table: Signs, clock: Clock): Chances | null {
  const told = told_of(doe, table, clock.ms);
  const all = ahead_of(due, table, told, clock);
  if (!all) return null;
  const shown = (hours: number, of: Ahead) =>
    Math.min(table.most_pct, Math.max(table.least_pct, Math.round(within(of, hours * 60) / 100)));
  const without = (one: Told) => ahead_of(due, table, told.filter((other) => other !== one), clock)!;
  const [, day = 24] = NEAR_H;
  return {
    hours: NEAR_H.map((hours) => [hours, shown(hours, all)]),
    signs: told.map((one) => ({ ...one, points: shown(day, all) - shown(day, without(one)) })),
  };
}
