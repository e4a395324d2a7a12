import { describe, expect, test } from "vitest";
import { by_day, isMonth, lastOf, monthAfter, weeksOf, type DueSpan } from "../../src/ui/year/calendar.ts";

const span = (doe: string, from: string, to: string): DueSpan => ({ doe, from, to, mid: from });

test("months follow each other over the year's end", () => {
  expect([monthAfter("2026-12", 1), monthAfter("2027-01", -1), monthAfter("2027-01", 11)]).toEqual([
    "2027-01", "2026-12", "2027-12",
  ]);
  expect([lastOf("2028-02"), lastOf("2027-02"), lastOf("2026-12")]).toEqual(["2028-02-29", "2027-02-28", "2026-12-31"]);
  expect(["2026-13", "2026-1", "x", "2026-07"].map(isMonth)).toEqual([false, false, false, true]);
});

describe("the weeks of a month", () => {
  test("begin with Sunday or Monday, as is usual where the language is spoken", () => {
    expect(weeksOf("2026-11", 0, [])[0]!.days[0]).toBe("2026-11-01");
    expect(weeksOf("2026-11", 1, [])[0]!.days[0]).toBe("2026-10-26");
    expect(weeksOf("2026-02", 0, []).length).toBe(4);
    expect(weeksOf("2026-11", 1, []).length).toBe(6);
  });
  test("cut a stretch at their ends, and put two that meet on two lines", () => {
    const weeks = weeksOf("2026-11", 0, [span("a", "2026-11-05", "2026-11-10"), span("b", "2026-11-07", "2026-11-07")]);
    const laid = weeks.slice(0, 2).map((week) => week.laid.map(({ span, first, last, lane, begins }) =>
      [span.doe, first, last, lane, begins]));
    expect(laid).toEqual([[["a", 4, 6, 0, true], ["b", 6, 6, 1, true]], [["a", 0, 2, 0, false]]]);
  });
  test("use a line again once it is free", () => {
    const spans = [span("a", "2026-11-01", "2026-11-02"), span("b", "2026-11-03", "2026-11-04")];
    expect(weeksOf("2026-11", 0, spans)[0]!.laid.map(({ lane }) => lane)).toEqual([0, 0]);
  });
});

test("tasks stand on the day they begin, and what was never done on none", () => {
  const task = (task: string, from: string, loose = false) => ({
    task, subject: "d", key: "", from, to: from, told: false, loose, near_d: 0, state: "open" as const, late: false,
    moved_to: "", why: "", ev: "", over: false, asked: false, since: "", turn: "", noted: "", late_d: 45, still: false,
  });
  const all = [task("kit", "2026-11-09"), task("scan", "2026-11-03"), task("feet", "2026-11-03", true)];
  const found = by_day([...all, task("kit", "2026-12-01")], "2026-11-01", "2026-11-30");
  expect(found.map(({ on, groups }) => [on, groups.map((one) => one.task)])).toEqual([
    ["2026-11-03", ["scan"]], ["2026-11-09", ["kit"]],
  ]);
});
