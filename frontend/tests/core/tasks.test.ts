import { describe, expect, test } from "vitest";
import { season_on } from "../../src/core/barn/task_anchors.ts";
import { tasks_between, tasks_due, type Task } from "../../src/core/barn/tasks.ts";
import { new_doe } from "../../src/core/state/doe_state.ts";
import { empty } from "../../src/core/state/empty.ts";
import type { Doe, RecordRow, TaskWord, View } from "../../src/core/state/view.ts";
import { RULES, type RuleName } from "../../src/core/tables/rules.ts";

const ours = (name: RuleName) => RULES[name][0];
const served = (id: string, from: string, to = from, more: Partial<Doe> = {}, size = "standard"): Doe => ({
  ...new_doe(id), f: { sex: "doe", size, kiddings_before: 2 }, ...more,
  bred: { from, to, how: "hand", ev: "b", on: from },
});
const farm = (does: Doe[], more: Partial<View> = {}): View => ({
  ...empty(), does: Object.fromEntries(does.map((doe) => [doe.id, doe])), ...more,
});
const word = (task: string, subject: string, key: string, what: string, more: Partial<TaskWord> = {}): TaskWord => ({
  ev: "w", on: key, happened: 0, author: "a", task, subject, key, what, to_on: "", why: "", ...more,
});
const row = (id: string, f: RecordRow["f"]): RecordRow => ({ id, f, stamp: {}, by: {} });
const own = (id: string, f: RecordRow["f"]) =>
  ({ own_tasks: { [id]: row(id, { title: "x", from_d: 0, to_d: 0, every_d: 0, date: "", gone: false, ...f }) } });
const all = (view: View, day = "2026-10-01", until = "2027-12-31") =>
  tasks_between(view, ours, day, "2026-01-01", until);
const one = (tasks: Task[], task: string, subject = "d") =>
  tasks.find((each) => each.task === task && each.subject === subject);
const days = (task: Task | undefined) => task && [task.from, task.to];

describe("the days of a task", () => {
  test("go back from the day she is due, and the watch stays open", () => {
    const tasks = all(farm([served("d", "2026-10-01")]));
    expect(days(one(tasks, "booster"))).toEqual(["2027-01-29", "2027-02-14"]);
    expect(days(one(tasks, "kidding_watch"))).toEqual(["2027-02-18", "2027-03-05"]);
  });
  test("begin with the first day she may have been bred, and a watch ends with the last", () => {
    const tasks = all(farm([served("d", "2026-10-01", "2026-10-31")]));
    expect(days(one(tasks, "heat_watch"))).toEqual(["2026-10-18", "2026-11-24"]);
    expect(days(one(tasks, "booster"))).toEqual(["2027-01-29", "2027-02-14"]);
    expect(days(one(tasks, "kidding_watch"))).toEqual(["2027-02-18", "2027-04-04"]);
  });
  test("of a miniature come earlier", () => {
    const tasks = all(farm([served("d", "2026-10-01", "2026-10-01", {}, "mini")]));
    expect(days(one(tasks, "booster"))).toEqual(["2027-01-24", "2027-02-09"]);
  });
  test("go with a herd rule that the farm has changed", () => {
    const later = (name: RuleName) => RULES[name][0] + (name === "dry_off_day_standard" ? 5 : 0);
    const milked = served("d", "2026-10-01", "2026-10-01", { milks: [["2026-10-02", 1, "", 0, "m"]] });
    const [usual, changed] = [ours, later].map((rule) =>
      one(tasks_between(farm([milked]), rule, "2026-10-01", "2026-10-01", "2027-12-31"), "dry_off"));
    expect([usual?.from, changed?.from]).toEqual(["2026-12-30", "2027-01-04"]);
  });
  test("over a leap day are counted as days", () => {
    const tasks = all(farm([served("d", "2027-10-02")]), "2028-01-01", "2028-12-31");
    expect(one(tasks, "kit")?.from).toBe("2028-02-19");
  });
});

test("who is dry is not dried off, who has left or is open has none, a buck is not bred", () => {
  const dry = all(farm([served("d", "2026-10-01")]));
  expect(one(dry, "dry_off")).toBeUndefined();
  const gone = farm([served("d", "2026-10-01", "2026-10-01", { left_on: "2026-10-05" })]);
  expect(all(gone).filter(({ subject }) => subject)).toEqual([]);
  expect(all(farm([{ ...new_doe("d"), f: { sex: "buck" } }])).filter(({ subject }) => subject)).toEqual([]);
});

describe("what was said of a task", () => {
  const view = (words: TaskWord[]) => farm([served("d", "2026-10-01")], { tasks: words });
  test("the last word counts", () => {
    const [done, back] = [word("kit", "d", "2027-02-28", "done"), word("kit", "d", "2027-02-28", "open")];
    expect(one(all(view([done])), "kit")?.state).toBe("done");
    expect(one(all(view([done, back])), "kit")?.state).toBe("open");
  });
  test("a day it is moved to is its day", () => {
    const task = one(all(view([word("kit", "d", "2027-02-28", "moved", { to_on: "2027-02-25" })])), "kit");
    expect([task?.state, task?.from, task?.to]).toEqual(["moved", "2027-02-25", "2027-02-25"]);
  });
  test("holds where the service was dated anew by a day, and not for her next service", () => {
    expect(one(all(view([word("heat_watch", "d", "2026-10-03", "done")])), "heat_watch")?.state).toBe("done");
    expect(one(all(view([word("heat_watch", "d", "2026-09-10", "done")])), "heat_watch")?.state).toBe("open");
  });
  test("a scan that was entered is done without a word", () => {
    const check = { on: "2026-11-20", result: "pregnant", kids: 2, aged_d: 0, ev: "c" };
    expect(one(all(farm([served("d", "2026-10-01", "2026-10-01", { check })])), "scan")?.state).toBe("done");
  });
});

test("what is late stands so until nobody will do it any more", () => {
  const view = farm([served("d", "2026-10-01")]);
  const due = (on: string) => one(tasks_due(view, ours, on, 14), "heat_watch_2");
  expect(due("2026-11-10")?.late).toBe(false);
  expect(due("2026-11-16")?.late).toBe(true);
  expect(due("2026-12-30")?.late).toBe(true);
  expect(due("2026-12-31")).toBeUndefined();
});

test("a round of the herd comes again from when it was done, and is on no date before it ever was", () => {
  const never = one(all(farm([])), "feet", "");
  expect([never?.key, never?.loose, never?.from]).toEqual(["first", true, "2026-10-01"]);
  const done = word("feet", "the farm", "first", "done", { on: "2026-09-01" });
  expect(days(one(all(farm([], { tasks: [done] })), "feet", ""))).toEqual(["2026-10-13", "2026-10-27"]);
});

test("kids have theirs until they go or have a record of their own", () => {
  const born = { born_on: "2026-09-20", sex: "buck", dam: "d" };
  const kid = (f: RecordRow["f"]) => ({ kids: { k: row("k", { ...born, ...f }) } });
  const of = (f: RecordRow["f"]) => all(farm([], kid(f))).filter(({ subject }) => subject === "k");
  expect(days(one(of({}), "horn_buds", "k"))).toEqual(["2026-09-23", "2026-10-11"]);
  expect(one(of({}), "buckling_apart", "k")?.from).toBe("2026-11-29");
  expect(one(of({ sex: "doe" }), "buckling_apart", "k")).toBeUndefined();
  expect(one(of({ horn: "polled" }), "horn_buds", "k")?.state).toBe("done");
  const gone: RecordRow["f"][] = [{ out: "sold" }, { grown: "d2" }, { came: "dead" }];
  for (const f of gone) expect(of(f)).toEqual([]);
});

describe("the season", () => {
  const services = [{ ev: "b", from: "2025-10-20", to: "2025-10-20", how: "hand", buck: "" }];
  const doe = { ...new_doe("d"), f: { sex: "doe", size: "standard" }, services };
  test("is a year after the first service, until somebody says the day", () => {
    expect(season_on(farm([doe]), "2026-08-20")).toBe("2026-10-20");
    const said = word("buck_in", "the farm", "2026-10-20", "moved", { to_on: "2026-09-05" });
    expect(season_on(farm([doe], { tasks: [said] }), "2026-08-20")).toBe("2026-09-05");
    expect(season_on(farm([]), "2026-08-20")).toBe("");
  });
  test("open does and bucks are got ready for it", () => {
    const buck = { ...new_doe("b"), f: { sex: "buck" } };
    const tasks = all(farm([doe, buck]), "2026-08-20");
    expect(one(tasks, "season_score")?.from).toBe("2026-08-21");
    expect(one(tasks, "season_score", "b")).toBeUndefined();
    expect(days(one(tasks, "buck_score", "b"))).toEqual(["2026-09-08", "2026-09-22"]);
  });
});

describe("a task of one's own", () => {
  const of = (f: RecordRow["f"], does: Doe[] = []) =>
    all(farm(does, own("o", f)))
      .filter(({ task }) => task === "o")
      .map(({ key, from, to, subject }) => [key, from, to, subject]);
  test("once", () => {
    expect(of({ anchor: "date", date: "2026-11-02" })).toEqual([["2026-11-02", "2026-11-02", "2026-11-02", ""]]);
  });
  test("every year on its date, the 29th of February on the 28th where there is none", () => {
    const found = of({ anchor: "date", date: "2024-02-29", every_d: 365 });
    expect(found.map(([key]) => key)).toEqual(["2026-02-28", "2027-02-28"]);
  });
  test("every so many days, and none before the first", () => {
    expect(of({ anchor: "date", date: "2027-11-20", every_d: 20 }).map(([key]) => key)).toEqual([
      "2027-11-20", "2027-12-10", "2027-12-30",
    ]);
  });
  test("of each doe, from the day she is due", () => {
    expect(of({ anchor: "due", from_d: -20, to_d: -6, every_d: 7 }, [served("d", "2026-10-01")])).toEqual([
      ["2027-02-08", "2027-02-08", "2027-02-08", "d"], ["2027-02-15", "2027-02-15", "2027-02-15", "d"],
      ["2027-02-22", "2027-02-22", "2027-02-22", "d"],
    ]);
  });
  test("none that is no longer done", () => {
    expect(of({ anchor: "date", date: "2026-11-02", gone: true })).toEqual([]);
  });
});

test("one's own, each time by itself", () => {
  const done = { tasks: [word("o", "the farm", "2026-11-02", "done")] };
  const tasks = all(farm([], { ...own("o", { anchor: "date", date: "2026-11-02", every_d: 7 }), ...done }));
  expect(tasks.filter(({ task }) => task === "o").slice(0, 2).map(({ state }) => state)).toEqual(["done", "open"]);
});
