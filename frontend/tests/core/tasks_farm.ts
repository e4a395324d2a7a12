/** A farm of a few lines, and its tasks, for tests. */
import type { Given } from "../../src/core/barn/task_anchors.ts";
import { tasks_between, type Task } from "../../src/core/barn/tasks.ts";
import { new_doe } from "../../src/core/state/doe_state.ts";
import { empty } from "../../src/core/state/empty.ts";
import type { Doe, RecordRow, TaskWord, View } from "../../src/core/state/view.ts";
import { RULES, type RuleName } from "../../src/core/tables/rules.ts";

export const ours = (name: RuleName) => RULES[name][0];
export const served = (id: string, from: string, to = from, more: Partial<Doe> = {}, size = "standard"): Doe => ({
  ...new_doe(id), f: { sex: "doe", size, kiddings_before: 2 }, ...more,
  bred: { from, to, how: "hand", ev: "b", on: from },
});
export const farm = (does: Doe[], more: Partial<View> = {}): View => ({
  ...empty(), does: Object.fromEntries(does.map((doe) => [doe.id, doe])), ...more,
});
type Words = Partial<TaskWord>;
export const word = (task: string, subject: string, key: string, what: string, more: Words = {}): TaskWord => ({
  ev: "w", on: key, happened: 0, author: "a", task, subject, key, what, to_on: "", why: "", ...more,
});
export const row = (id: string, f: RecordRow["f"]): RecordRow => ({ id, f, stamp: {}, by: {} });
export const own = (id: string, f: RecordRow["f"]) =>
  ({ own_tasks: { [id]: row(id, { title: "x", from_d: 0, to_d: 0, every_d: 0, date: "", gone: false, ...f }) } });
export const given = (day: string, more: Partial<Given> = {}): Given => ({ rule: ours, due: () => null, day, ...more });
export const all = (view: View, day = "2026-10-01", until = "2027-12-31", more: Partial<Given> = {}) =>
  tasks_between(view, given(day, more), "2026-01-01", until);
export const one = (tasks: Task[], task: string, subject = "d") =>
  tasks.find((each) => each.task === task && each.subject === subject);
export const days = (task: Task | undefined) => task && [task.from, task.to];

export const known = (early: string, late: string, bred = "2026-10-01/2026-10-31") =>
  ({ due: () => ({ due: { early, late }, basis: { bred } }) });
export const milked: Partial<Doe> = { milks: [["2026-10-02", 1, "", 0, "m"]] };
