import { addDays, dateOf, dayOf } from "../base/days.ts";
import type { RecordRow, View } from "../state/view.ts";
import { TASK_LATE_D, TASK_SAME_D } from "../tables/numbers.ts";
import { anchors_of, HERD, type From, type Given } from "./task_anchors.ts";
import { noted_on } from "./task_noted.ts";
import type { Span } from "./task_spans.ts";

/** Tasks of a farm's own. After so many days again; 365 is the same date each year. */
const DAYS_OF_YEAR = 365;

export function own_spans(view: View, given: Given, since: string, until: string): Span[] {
  const rows = Object.values(view.own_tasks).filter(({ f }) => !f["gone"]);
  return rows.flatMap((row) =>
    row.f["anchor"] === "date" ? of_date(row, since, until) : of_each(row, view, given),
  );
}

function whole(row: RecordRow, field: string): number {
  return Number(row.f[field] ?? 0);
}

function spanned(row: RecordRow, subject: string, key: string, days: [from: number, to: number]): Span {
  const [from, to] = days.map((d) => addDays(key, d)) as [string, string];
  // the next time is what is to be done then
  const late_d = Math.min(TASK_LATE_D, whole(row, "every_d") || TASK_LATE_D) - 1;
  const said = { key, told: false, loose: false, near_d: 0, since: "", turn: "", late_d, still: false };
  return { task: row.id, subject, from, to, ...said, noted: noted_on(row) };
}

function of_date(row: RecordRow, since: string, until: string): Span[] {
  const date = String(row.f["date"] ?? "");
  if (!date) return [];
  const days: [number, number] = [whole(row, "from_d"), whole(row, "to_d")];
  return dates(date, whole(row, "every_d"), addDays(since, -days[1]), addDays(until, -days[0]))
    .map((key) => ({ ...spanned(row, HERD, key, days), turn: turn_of(key, date, whole(row, "every_d")) }));
}

/** Which time it is: the year, or how often it has come before. */
function turn_of(key: string, first: string, every_d: number): string {
  if (!every_d) return "";
  return every_d === DAYS_OF_YEAR ? String(year_of(key)) : String((dayOf(key) - dayOf(first)) / every_d);
}

/** The dates it falls on between two days, the first of all included. */
function dates(date: string, every_d: number, since: string, until: string): string[] {
  if (!every_d) return [date];
  if (every_d === DAYS_OF_YEAR) return yearly(date, since, until);
  const [first, end] = [dayOf(date), dayOf(until)];
  const start = first + Math.max(0, Math.ceil((dayOf(since) - first) / every_d)) * every_d;
  const found: string[] = [];
  for (let at = start; at <= end; at += every_d) found.push(dateOf(at));
  return found;
}

/** The 29th of February is the 28th where there is none. */
function yearly(date: string, since: string, until: string): string[] {
  const [first, last] = [Math.max(year_of(date), year_of(since)), year_of(until)];
  const years = Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => first + i);
  return years.map((year) => {
    const on = `${String(year).padStart(4, "0")}${date.slice(4)}`;
    return date.endsWith("-02-29") && dateOf(dayOf(on)) !== on ? on.replace(/29$/, "28") : on;
  });
}
const year_of = (on: string) => Number(on.slice(0, 4));

/** Of each doe or kid; with an `every_d`, one day of it after the other. */
function of_each(row: RecordRow, view: View, given: Given): Span[] {
  const [from, to, every_d] = [whole(row, "from_d"), whole(row, "to_d"), whole(row, "every_d")];
  return anchors_of(row.f["anchor"] as From, view, given).flatMap((anchor) => {
    const { subject, first, key, since, turn } = anchor;
    const noted = [anchor.noted, noted_on(row)].sort().at(-1)!;
    const whole_of = { ...spanned(row, subject, first, [from, to]), noted };
    if (!every_d) return [{ ...whole_of, key, since, turn, near_d: TASK_SAME_D }];
    const times = Math.max(1, Math.floor((to - from) / every_d) + 1);
    return Array.from({ length: times }, (_, i) => {
      const after_d = from + i * every_d;
      const on = addDays(first, after_d);
      return { ...whole_of, from: on, to: on, key: addDays(key, after_d), turn: `${turn}.${i}` };
    });
  });
}
