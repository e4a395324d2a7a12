import { next_of_each, tasks_between, tasks_due, type Task } from "../../core/barn/tasks.ts";
import type { Given } from "../../core/barn/task_anchors.ts";
import { TASKS, type TaskCode } from "../../core/tables/tasks.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { ruleOf } from "../sentences/amounts.ts";
import { kidName } from "../sentences/records_year.ts";
import { addDays, span } from "../words/format.ts";
import { t } from "../words/text.ts";

export type { Task };

/** One task and all it is to be done with. */
export interface Group {
  task: string;
  rows: Task[];
  from: string;
  to: string;
}

const given = (): Given => ({ rule: ruleOf, due: (doe) => day.outlook(doe), day: day.today });
export const due = (ahead_d: number): Task[] => tasks_due(day.view, given(), ahead_d);
/** The same as a list: what comes each week stands on it once. */
export const listed = (ahead_d: number): Task[] => next_of_each(due(ahead_d));
export const between = (since: string, until: string): Task[] => tasks_between(day.view, given(), since, until);

/** In the order they come: a task stands where its first doe does. */
export function grouped(tasks: Task[]): Group[] {
  const found = new Map<string, Task[]>();
  for (const task of tasks) found.set(task.task, [...(found.get(task.task) ?? []), task]);
  return [...found].map(([task, rows]) => ({
    task, rows, from: rows[0]!.from, to: rows.map(({ to }) => to).sort()[0]!,
  }));
}

const rowOf = (task: string) => (Object.hasOwn(TASKS, task) ? TASKS[task as TaskCode] : undefined);
export const isKnown = (task: string) => rowOf(task) !== undefined;
export const isQuestion = (task: string) => rowOf(task)?.ask ?? false;
export const sourceOf = (task: string) => rowOf(task)?.source || t("tasks.practice");

export function titleOf(task: string): string {
  return isKnown(task) ? t(`task.${task}`) : String(day.view.own_tasks[task]?.f["title"] ?? "");
}

export function whoOf({ subject }: Pick<Task, "subject">): string {
  const { does, kids } = day.view;
  return subject in does ? nameOf(does[subject]) : subject in kids ? kidName(subject) : "";
}

export const namesOf = (rows: Task[]) => rows.map(whoOf).filter(Boolean).join(", ");
export const daysOf = ({ from, to }: Pick<Task, "from" | "to">) => span(from, to, day.today);

export function penOf({ subject }: Task): string {
  const { does, kids } = day.view;
  return (does[subject] ?? does[String(kids[subject]?.f["dam"] ?? "")])?.pen ?? "";
}

/** What became of some of them, as one act with one undo. */
export function say(rows: Task[], what: "done" | "moved" | "skipped" | "open", to_on = "", why = ""): void {
  const words = { task: titleOf(rows[0]!.task), who: namesOf(rows), n: rows.length, date: to_on && day.spoken(to_on) };
  const about = rows.length > 1 ? "many" : words.who ? "one" : "herd";
  together(t(`tasks.said.${what}.${about}`, words), () => {
    for (const { task, subject, key } of rows)
      record("task", subject || session.farmId, { task, key, what, to_on, why }, { on: day.today, slot: "" });
  });
}

/** How many have to be finished in each of the weeks ahead; the first holds what is late. */
export function load(weeks: number): { on: string; n: number }[] {
  const tasks = due(7 * weeks - 1).filter(({ loose }) => !loose);
  return Array.from({ length: weeks }, (_, i) => {
    const [on, end] = [addDays(day.today, 7 * i), addDays(day.today, 7 * i + 6)];
    return { on, n: tasks.filter(({ to }) => to <= end && (i === 0 || to >= on)).length };
  });
}
