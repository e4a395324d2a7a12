import { addDays, dayOf } from "../base/days.ts";
import { TASK_LATE_D } from "../tables/numbers.ts";
import type { TaskWord, View } from "../state/view.ts";
import { own_spans } from "./own_tasks.ts";
import { HERD, type Given } from "./task_anchors.ts";
import { table_spans, type Span } from "./task_spans.ts";

export type TaskState = "open" | "done" | "moved" | "skipped";

/** `subject`: a doe, a kid, or "" for the herd. */
export interface Task extends Span {
  state: TaskState;
  /** Past its last day and not done, and still of use. */
  late: boolean;
  /** Past it, and no longer of use: on its days of the calendar and on no list. */
  over: boolean;
  /** Over before anybody wrote her down, and still of use: it may have been done, and is asked for once. */
  asked: boolean;
  moved_to: string;
  why: string;
  /** The entry that says so; "" where nobody said anything. */
  ev: string;
}

/**
 * What is to be done this year, of whom and when: all that touches the days from `since` to `until`, the earliest
 * first. Python asks it for the calendar's feed (src/engine.ts).
 */
export function tasks_between(view: View, given: Given, since: string, until: string): Task[] {
  const words = by_task(view);
  const spans = [...table_spans(view, given), ...own_spans(view, given, since, until)];
  return spans
    .flatMap((span) => said_of(span, words, given.day))
    .filter(({ from, to }) => from <= until && to >= since)
    .sort((a, b) => compare(a.from, b.from) || compare(a.to, b.to));
}

/** What is late, and what may be begun within so many days. */
export function tasks_due(view: View, given: Given, ahead_d: number): Task[] {
  const { day } = given;
  const found = tasks_between(view, given, addDays(day, -TASK_LATE_D), addDays(day, ahead_d));
  return found.filter((task) => is_to_do(task) && !task.over);
}

/** Of what comes again, the first that is still to be done. */
export function next_of_each(tasks: Task[]): Task[] {
  const seen = new Set<string>();
  return tasks.filter(({ task, subject }) => {
    const at = name(task, subject);
    return !seen.has(at) && seen.add(at);
  });
}

export const is_to_do = ({ state }: Pick<Task, "state">): boolean => state === "open" || state === "moved";

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
const name = (task: string, subject: string) => `${task}|${subject}`;

function by_task({ tasks, does, kids, pens }: View): Map<string, TaskWord[]> {
  const of = (subject: string) => (subject in does || subject in kids || subject in pens ? subject : HERD);
  const found = new Map<string, TaskWord[]>();
  for (const word of tasks) {
    const at = name(word.task, of(word.subject));
    found.set(at, [...(found.get(at) ?? []), word]);
  }
  return found;
}

function said_of(span: Span, words: Map<string, TaskWord[]>, day: string): Task[] {
  const word = (words.get(name(span.task, span.subject)) ?? []).findLast((said) => is_same(said, span));
  const state = span.told && word?.what !== "skipped" ? "done" : ((word?.what ?? "open") as TaskState);
  const moved_to = state === "moved" ? word!.to_on : "";
  const days = moved_to ? { from: moved_to, to: moved_to } : {};
  const [why, ev] = [word?.why ?? "", word?.ev ?? ""];
  return timed({ ...span, ...days, state, moved_to, why, ev, late: false, over: false, asked: false }, day);
}

/** Nothing of an animal where it was over before anybody could have done it here and is of no use any more. */
function timed(task: Task, day: string): Task[] {
  if (!is_to_do(task) || task.to >= day) return [task];
  const over = addDays(task.to, task.late_d) < day;
  if (task.ev || task.to > task.noted) return [{ ...task, late: !over, over }];
  if (task.still && !over) return [{ ...task, asked: true, loose: true }];
  return task.subject === HERD ? [{ ...task, over: true }] : [];
}

function is_same(said: TaskWord, { key, near_d, since }: Span): boolean {
  return said.key === key || Math.abs(dayOf(said.key) - dayOf(key)) <= near_d || (since !== "" && said.on >= since);
}
