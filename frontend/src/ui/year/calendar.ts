import { addDays, dayOf } from "../words/format.ts";
import type { Doe } from "../model/shapes.ts";
import type { Outlook } from "../model/results.ts";
import type { Task } from "./tasks.ts";

/** Days that a doe may kid on, and the middle one. */
export interface DueSpan {
  doe: string;
  from: string;
  to: string;
  mid: string;
}

/** A stretch within one week: its first and last column, and the line it is drawn on. */
export interface Laid {
  span: DueSpan;
  first: number;
  last: number;
  lane: number;
  begins: boolean;
}

export interface Week {
  days: string[];
  laid: Laid[];
}

/** What begins on a day, by task. */
export interface DayTasks {
  on: string;
  groups: { task: string; rows: Task[] }[];
}

export function due_spans(does: Doe[], outlook: (id: string) => Outlook | null): DueSpan[] {
  return does.flatMap(({ id, bred, left_on }) => {
    const due = bred && !left_on ? outlook(id)?.due : null;
    return due ? [{ doe: id, from: due.early, to: due.late, mid: due.mid }] : [];
  }).sort((a, b) => (a.from < b.from ? -1 : 1));
}

export const monthOf = (on: string) => on.slice(0, 7);
export const isMonth = (text: string) => /^\d{4}-(0[1-9]|1[0-2])$/.test(text);

export function monthAfter(month: string, n: number): string {
  const at = Number(month.slice(0, 4)) * 12 + Number(month.slice(5)) - 1 + n;
  return `${String(Math.floor(at / 12)).padStart(4, "0")}-${String((at % 12) + 1).padStart(2, "0")}`;
}

export const firstOf = (month: string) => `${month}-01`;
export const lastOf = (month: string) => addDays(firstOf(monthAfter(month, 1)), -1);

/** `start`: the weekday a week begins with, 0 for Sunday. */
export function weeksOf(month: string, start: number, spans: DueSpan[]): Week[] {
  const [first, last] = [firstOf(month), lastOf(month)];
  const before = (weekday(first) - start + 7) % 7;
  const n = Math.ceil((before + dayOf(last) - dayOf(first) + 1) / 7);
  return Array.from({ length: n }, (_, i) => {
    const from = addDays(first, 7 * i - before);
    const days = Array.from({ length: 7 }, (_, d) => addDays(from, d));
    return { days, laid: lay(days, spans) };
  });
}

export const weekday = (on: string) => (((dayOf(on) + 4) % 7) + 7) % 7;

/** Each on the highest line that is free. */
function lay(days: string[], spans: DueSpan[]): Laid[] {
  const ends: number[] = [];
  return spans.filter(({ from, to }) => from <= days[6]! && to >= days[0]!).map((span) => {
    const first = days.findIndex((on) => on >= span.from);
    const last = days.findLastIndex((on) => on <= span.to);
    const free = ends.findIndex((end) => end < first);
    const lane = free < 0 ? ends.length : free;
    ends[lane] = last;
    return { span, first, last, lane, begins: span.from >= days[0]! };
  });
}

/** By the day they begin, or are moved to. */
export function by_day(tasks: Task[], since: string, until: string): DayTasks[] {
  const found = new Map<string, Map<string, Task[]>>();
  for (const task of tasks) {
    if (task.loose || task.from < since || task.from > until) continue;
    const day = found.get(task.from) ?? new Map<string, Task[]>();
    day.set(task.task, [...(day.get(task.task) ?? []), task]);
    found.set(task.from, day);
  }
  return [...found].sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([on, tasks]) => ({ on, groups: [...tasks].map(([task, rows]) => ({ task, rows })) }));
}
