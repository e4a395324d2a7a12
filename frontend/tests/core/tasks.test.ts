import { describe, expect, test } from "vitest";
import { season_on } from "../../src/core/barn/task_anchors.ts";
import { next_of_each, tasks_due } from "../../src/core/barn/tasks.ts";
import { new_doe } from "../../src/core/state/doe_state.ts";
import type { Doe, RecordRow, TaskWord } from "../../src/core/state/view.ts";
import { RULES, type RuleName } from "../../src/core/tables/rules.ts";
import { ours, served, farm, word, row, own, given, all, one, days, known, milked } from "./tasks_farm.ts";

describe("the days of a late task", () => {
  /** 1 October and 144 days, the first she may kid on where nothing is worked out, is 22 February. */
  test("go back from the first day she may kid, and the watch stays open", () => {
    const tasks = all(farm([served("d", "2026-10-01")]));
    expect(days(one(tasks, "booster"))).toEqual(["2027-01-23", "2027-02-08"]);
    expect(days(one(tasks, "kidding_watch"))).toEqual(["2027-02-17", "2027-03-07"]);
  });
  test("go by all that is known of her dates, and not by those of another service", () => {
    const view = farm([served("d", "2026-10-01", "2026-10-31", milked)]);
    const scanned = all(view, "2026-12-20", "2027-12-31", known("2027-03-12", "2027-03-26"));
    expect(days(one(scanned, "booster"))).toEqual(["2027-02-10", "2027-02-26"]);
    expect(days(one(scanned, "kidding_watch"))).toEqual(["2027-03-07", "2027-03-26"]);
    // settled about 19 October, so dried off then; a return to heat is watched for from her service on
    expect(one(scanned, "dry_off")?.from).toBe("2027-01-17");
    expect(one(scanned, "heat_watch")?.from).toBe("2026-10-18");
    const other = all(view, "2026-12-20", "2027-12-31", known("2027-03-12", "2027-03-26", "2026-09-01/2026-09-01"));
    expect(days(one(other, "booster"))).toEqual(["2027-01-23", "2027-02-08"]);
  });
});

describe("the days", () => {
  test("of drying off are the day that is planned for it", () => {
    const plan = { on: "2026-12-01", last_on: "2026-12-20", way: "gradual", ev: "p" };
    const doe = served("d", "2026-10-01", "2026-10-01", { ...milked, dry_plan: plan });
    expect(days(one(all(farm([doe])), "dry_off"))).toEqual(["2026-12-20", "2026-12-20"]);
  });
  test("come again each week where ketones are tested, for those at risk alone, and a missed week is over", () => {
    const scan = { on: "2026-12-01", result: "pregnant", kids: 3, aged_d: 0, ev: "c" };
    const weeks = (more: Partial<Doe>, day = "2026-12-20") =>
      all(farm([served("d", "2026-10-01", "2026-10-01", more)]), day).filter(({ task }) => task === "ketone_check");
    expect(weeks({})).toEqual([]);
    expect(weeks({ scores: [["2026-12-01", 225, "a", "s"]] }).length).toBe(7);
    const found = weeks({ check: scan });
    expect(found.slice(0, 2).map(days)).toEqual([["2027-01-18", "2027-01-24"], ["2027-01-25", "2027-01-31"]]);
    expect(days(found.at(-1))).toEqual(["2027-03-01", "2027-03-07"]);
    const now = weeks({ check: scan }, "2027-02-02").filter(({ over }) => !over);
    expect(days(now[0])).toEqual(["2027-02-01", "2027-02-07"]);
    const seen = { cud: "", dung: "", legs: "", eyes: 0, udder: "", belly: "" };
    const tested = weeks({ check: scan, checkups: [["2027-01-19", 0, 0, 4, "", "a", "k", seen]] });
    expect(tested.slice(0, 2).map(({ state }) => state)).toEqual(["done", "open"]);
  });
});

describe("the days of a task", () => {
  test("begin with the first day she may have been bred, and a watch ends with the last", () => {
    const tasks = all(farm([served("d", "2026-10-01", "2026-10-31")]));
    expect(days(one(tasks, "heat_watch"))).toEqual(["2026-10-18", "2026-11-24"]);
    expect(days(one(tasks, "booster"))).toEqual(["2027-01-23", "2027-02-08"]);
    expect(days(one(tasks, "kidding_watch"))).toEqual(["2027-02-17", "2027-04-06"]);
  });
  test("of a miniature come earlier", () => {
    const tasks = all(farm([served("d", "2026-10-01", "2026-10-01", {}, "mini")]));
    expect(days(one(tasks, "booster"))).toEqual(["2027-01-21", "2027-02-06"]);
  });
  test("go with a herd rule that the farm has changed", () => {
    const later = (name: RuleName) => RULES[name][0] + (name === "dry_off_day_standard" ? 5 : 0);
    const doe = served("d", "2026-10-01", "2026-10-01", milked);
    const [usual, changed] = [ours, later].map((rule) =>
      one(all(farm([doe]), "2026-10-01", "2027-12-31", { rule }), "dry_off"));
    expect([usual?.from, changed?.from]).toEqual(["2026-12-30", "2027-01-04"]);
  });
  test("over a leap day are counted as days", () => {
    const tasks = all(farm([served("d", "2027-10-02")]), "2028-01-01", "2028-12-31");
    // 144 days from 2 October, the 29th of February among them, is 23 February
    expect(days(one(tasks, "kit"))).toEqual(["2028-02-13", "2028-02-16"]);
    expect(days(one(tasks, "kidding_watch"))).toEqual(["2028-02-18", "2028-03-07"]);
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

describe("what is late", () => {
  const view = farm([served("d", "2026-10-01")]);
  const due = (task: string, on: string) => one(tasks_due(view, given(on), 14), task);
  test("stands so as long as it is of use", () => {
    // to day 85, and fifteen days on
    expect(due("scan", "2026-12-25")?.late).toBe(false);
    expect(due("scan", "2026-12-26")?.late).toBe(true);
    expect(due("scan", "2027-01-09")?.late).toBe(true);
    expect(due("scan", "2027-01-10")).toBeUndefined();
  });
  test("is no watch whose days are over, and no hoof trim of a doe too far gone to be tipped", () => {
    expect(due("heat_watch_2", "2026-11-15")?.late).toBe(false);
    expect(due("heat_watch_2", "2026-11-16")).toBeUndefined();
    expect(due("feet_late", "2027-01-18")?.late).toBe(false);
    expect(due("feet_late", "2027-01-19")).toBeUndefined();
  });
});

test("a round of the herd comes again from when it was done, and is on no date before it ever was", () => {
  const never = one(all(farm([])), "feet", "");
  expect([never?.key, never?.loose, never?.from]).toEqual(["first", true, "2026-10-01"]);
  const done = word("feet", "the farm", "first", "done", { on: "2026-09-01" });
  expect(days(one(all(farm([], { tasks: [done] })), "feet", ""))).toEqual(["2026-10-13", "2026-10-27"]);
});

test("a round that the log shows comes again from there: most of the herd was scored, or its eyelids seen", () => {
  const scored = (id: string, ...on: string[]): Doe =>
    ({ ...new_doe(id), f: { sex: "doe" }, scores: on.map((day) => [day, 300, "a", day]) });
  const round = (...does: Doe[]) => one(all(farm(does)), "score_round", "");
  expect(round(scored("a"), scored("b"), scored("c", "2026-09-20"))?.loose).toBe(true);
  const most = round(scored("a"), scored("b", "2026-08-01", "2026-09-20"), scored("c", "2026-09-22"));
  expect([most?.loose, most?.from]).toEqual([false, "2026-10-11"]);
});

test("what comes each week stands on a list once", () => {
  const thin = served("d", "2026-10-01", "2026-10-01", { scores: [["2026-12-01", 225, "a", "s"]] });
  const due = tasks_due(farm([thin]), given("2027-02-02"), 14).filter(({ task }) => task === "ketone_check");
  expect(due.map(({ from }) => from)).toEqual(["2027-02-01", "2027-02-08", "2027-02-15"]);
  expect(next_of_each(due).map(({ from }) => from)).toEqual(["2027-02-01"]);
});

test("kids she lost far from her time leave her no grain to raise and no peak to score", () => {
  const lost = (to: string): Partial<Doe> => ({
    bred: null, kiddings: 1, gestations: [{ from: "2026-10-01", to: "2026-10-01", on: to, ev: "k" }],
    kidded: { on: to, born: 2, alive: 0, timed: false, ev: "k", at: 0 },
  });
  const of = (to: string) => all(farm([{ ...served("d", "2026-10-01"), ...lost(to) }]), to).map(({ task }) => task);
  expect(of("2027-01-19").filter((task) => task.startsWith("fresh") || task === "peak")).toEqual(["fresh_checks"]);
  expect(of("2027-02-27")).toContain("peak");
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
  test("of each doe, from the first day she may kid", () => {
    expect(of({ anchor: "due", from_d: -20, to_d: -6, every_d: 7 }, [served("d", "2026-10-01")])).toEqual([
      ["2027-02-08", "2027-02-02", "2027-02-02", "d"], ["2027-02-15", "2027-02-09", "2027-02-09", "d"],
      ["2027-02-22", "2027-02-16", "2027-02-16", "d"],
    ]);
  });
  test("none that is no longer done", () => {
    expect(of({ anchor: "date", date: "2026-11-02", gone: true })).toEqual([]);
  });
});

test("one's own that comes again is late once, not once for each time it was left", () => {
  const weekly = farm([], own("o", { anchor: "date", date: "2026-09-01", every_d: 7 }));
  const late = tasks_due(weekly, given("2026-10-02"), 14).filter(({ late }) => late);
  expect(late.map(({ key }) => key)).toEqual(["2026-09-29"]);
});

test("one's own, each time by itself", () => {
  const done = { tasks: [word("o", "the farm", "2026-11-02", "done")] };
  const tasks = all(farm([], { ...own("o", { anchor: "date", date: "2026-11-02", every_d: 7 }), ...done }));
  expect(tasks.filter(({ task }) => task === "o").slice(0, 2).map(({ state }) => state)).toEqual(["done", "open"]);
});
