import { expect, test } from "vitest";
import { addDays } from "../../src/core/base/days.ts";
import { PHASE } from "../../src/core/tables/codes.ts";
import { milestones, YearPlot } from "../../src/ui/doe/year_plot.ts";
import type { Outlook } from "../../src/ui/model/results.ts";

const BRED = "2026-07-03";
const phases = (...runs: [number, number][]) => runs.flatMap(([phase, days]) => Array<number>(days).fill(phase));
const outlook = (phase: number[]) => ({
  season: { day0: BRED, phase },
  due: { early: "2026-11-25", mid: "2026-11-30", late: "2026-12-04", printed: "2026-11-30" },
}) as unknown as Outlook;
const milked = outlook(
  phases([PHASE.carrying_in_milk, 76], [PHASE.drying_off, 14], [PHASE.dry, 39], [PHASE.close_up, 21]),
);
const bred = { from: BRED, to: BRED, how: "hand", ev: "", on: BRED };
const NOTHING = { bred: null, check: null, dried_on: "", kidded: null };
const kidded = { on: "2026-02-01", born: 2, alive: 2, timed: false, ev: "", at: 0 };
const said = (rows: ReturnType<typeof milestones>) => rows.map(({ what, on }) => [what, on]);

test("a doe bred in milk has her drying off, close-up and due days ahead of her", () => {
  expect(said(milestones({ ...NOTHING, bred, kidded }, milked))).toEqual([
    ["kidded", "2026-02-01"], ["bred", BRED], ["dry", addDays(BRED, 90)], ["close_up", addDays(BRED, 129)],
    ["due", "2026-11-25"],
  ]);
});

test("the day she was dried off goes before the one by the rule, and one of a year before is left out", () => {
  const dry = (dried_on: string) => milestones({ ...NOTHING, bred, kidded, dried_on }, milked);
  expect(said(dry("2026-09-20"))).toContainEqual(["dry", "2026-09-20"]);
  expect(said(dry("2025-11-20"))).toContainEqual(["dry", addDays(BRED, 90)]);
});

test("a doe bred dry has no drying off to come, and one nobody bred no due days", () => {
  const dry = outlook(phases([PHASE.dry, 129], [PHASE.close_up, 21]));
  expect(said(milestones({ ...NOTHING, bred }, dry)).map(([what]) => what)).toEqual(["bred", "close_up", "due"]);
  expect(said(milestones({ ...NOTHING, kidded }, null))).toEqual([["kidded", "2026-02-01"]]);
});

test.each([[200], [328], [720]])("all of it stands within %i pixels, months apart enough to read", (width) => {
  const rows = milestones({ ...NOTHING, bred, kidded }, milked);
  const plot = new YearPlot(rows, "2026-09-01", width);
  for (const x of rows.flatMap(({ on, to }) => [plot.x(on), plot.x(to)])) {
    expect(x).toBeGreaterThanOrEqual(plot.left);
    expect(x).toBeLessThanOrEqual(plot.right);
  }
  const months = plot.months.map(({ x }) => x);
  months.slice(1).forEach((x, i) => expect(x - months[i]!).toBeGreaterThan(30));
});
