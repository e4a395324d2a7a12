import { expect, test } from "vitest";
import {
  first_raise, flake_of, fresh, mean_of, measured, nearest_quarter, odd_fill, scooped, scoops_for,
} from "../../src/core/outlook/feeding/measures.ts";
import type { Calibration, RecordRow, View } from "../../src/core/state/view.ts";
import { fold } from "../../src/core/state/fold.ts";

const KEEP_D = 120;
const NOON = (on: string) => Date.parse(`${on}T12:00:00Z`);
const place = (id: string, f: RecordRow["f"], stamp: RecordRow["stamp"] = {}): RecordRow => ({ id, f, stamp, by: {} });
const weighed = (on: string, fills_g: number[], of = "scoop", lot = ""): Calibration => ({
  ev: `ev-${on}`, on, happened: NOON(on), author: "somebody", of, fills_g, lot,
});
const bag = (on: string, at = NOON(on)) => [{ ev: "bag", on, happened: at }];
const farm = (part: Partial<View>): View => ({ ...fold([]), ...part });
const red = (part: Partial<View> = {}) =>
  farm({
    scoops: { red: place("red", { name: "Red", feed: "barley_rolled", order: 1 }) },
    calibrations: { red: [weighed("2026-11-01", [400, 410, 420, 405, 415])] },
    ...part,
  });
const of_red = (view: View, today = "2026-11-20") => scoops_for(view, "barley_rolled", today, KEEP_D)[0]!;

test.each([
  // worked by hand: sum 2050 of five; 412 from 2060; halves go up
  [[400, 410, 420, 405, 415], { g: 410, low: 400, high: 420, off_pm: 24 }],
  [[411, 411, 411, 411, 416], { g: 412, low: 411, high: 416, off_pm: 9 }],
  [[1, 2], { g: 2, low: 1, high: 2, off_pm: 500 }],
  [[300, 300, 300, 300, 375], { g: 315, low: 300, high: 375, off_pm: 190 }],
])("the mean of %j and how far the furthest fill lies from it", (fills, want) => {
  expect(mean_of(fills)).toEqual(want);
});

test("nothing weighed has no mean", () => {
  expect(mean_of([])).toBeNull();
  expect(mean_of([0, 0])).toBeNull();
});

test.each([
  ["scoop", [400, 410, 4_200, 405, 415], { place: 2, g: 4_200, middle_g: 410 }],
  ["scoop", [400, 410, 42, 405, 415], { place: 2, g: 42, middle_g: 405 }],
  ["scoop", [400, 410, 420, 405, 45_000], { place: 4, g: 45_000, middle_g: 0 }],
  ["scoop", [400, 410, 790, 405, 415], { place: 2, g: 790, middle_g: 410 }],
  ["scoop", [400, 410, 600, 405, 415], null],
  ["flake", [900, 2_100, 1_400], null],
  ["flake", [900, 9_100, 1_400], { place: 1, g: 9_100, middle_g: 1_400 }],
  ["flake", [40, 1_400, 1_300], { place: 0, g: 40, middle_g: 0 }],
  ["bale", [18_000, 21_000, 24_000], null],
] as const)("fills of a %s %j: which cannot be", (of, fills, want) => {
  expect(odd_fill(of, [...fills])).toEqual(want);
});

test.each([
  // 515 g in a scoop of 402: 1.28 scoops; a quarter is 100.5 g
  [515, 402, { quarters: 5, off_g: -12 }],
  [400, 402, { quarters: 4, off_g: 2 }],
  [50, 402, null],
  [51, 402, { quarters: 1, off_g: 50 }],
  [0, 402, null],
  [100, 0, null],
  [900, 400, { quarters: 9, off_g: 0 }],
  [150, 400, { quarters: 2, off_g: 50 }],
])("%i g in a scoop of %i g", (g, scoop_g, want) => {
  expect(nearest_quarter(g, scoop_g)).toEqual(want);
});

test("the quarter shown is never further off than an eighth of a scoop", () => {
  for (let g = 60; g < 3_000; g += 7) {
    const found = nearest_quarter(g, 411)!;
    expect(Math.abs(found.off_g)).toBeLessThanOrEqual(52);
  }
});

test("a weight is fresh until the next bag, the next lot, or its own age", () => {
  expect(of_red(red())).toMatchObject({ g: 410, old: "", on: "2026-11-01" });
  expect(of_red(red({ bags: { barley_rolled: bag("2026-11-10") } })).old).toBe("bag");
  expect(of_red(red({ bags: { oats_grain: bag("2026-11-10") } })).old).toBe("");
  expect(of_red(red({ bags: { barley_rolled: bag("2026-10-10") } })).old).toBe("");
  expect(of_red(red(), "2027-03-01").old).toBe("");
  expect(of_red(red(), "2027-03-02").old).toBe("age");
});

test("on one day what came later counts: a scoop weighed from the new bag is fresh", () => {
  const morning = bag("2026-11-01", NOON("2026-11-01") - 1);
  const evening = bag("2026-11-01", NOON("2026-11-01") + 1);
  expect(of_red(red({ bags: { barley_rolled: morning } })).old).toBe("");
  expect(of_red(red({ bags: { barley_rolled: evening } })).old).toBe("bag");
});

test("a lot opened after the weighing makes it old, and a bag of the feed it is a lot of too", () => {
  const lots = { heap: place("heap", { name: "Heap", feed: "barley_rolled", opened_on: "2026-11-05" }) };
  const view = red({ lots });
  expect(scoops_for(view, "heap", "2026-11-20", KEEP_D)).toMatchObject([{ id: "red", old: "lot" }]);
  expect(of_red(view).old).toBe("");
  const bagged = red({
    lots: { heap: place("heap", { feed: "barley_rolled" }) }, bags: { barley_rolled: bag("2026-11-10") },
  });
  expect(scoops_for(bagged, "heap", "2026-11-20", KEEP_D)[0]!.old).toBe("bag");
});

test("a scoop that now holds another feed has not been weighed for it", () => {
  const view = red({
    calibrations: { red: [weighed("2026-11-01", [400, 410, 420, 405, 415], "scoop", "oats_grain")] },
  });
  expect(of_red(view)).toMatchObject({ g: 0, old: "", ev: "" });
  expect(fresh(of_red(view))).toBe(false);
});

test("only scoops in use for that feed, in the farm's order", () => {
  const view = farm({
    scoops: {
      a: place("a", { feed: "barley_rolled", order: 2 }), b: place("b", { feed: "barley_rolled", order: 1 }),
      c: place("c", { feed: "oats_grain", order: 0 }), d: place("d", { feed: "barley_rolled", order: 0, gone: true }),
    },
  });
  expect(scoops_for(view, "barley_rolled", "2026-11-20", KEEP_D).map(({ id }) => id)).toEqual(["b", "a"]);
});

test("the scoop that comes nearest is shown, and a fresh one before an old one", () => {
  const calibrations = {
    red: [weighed("2026-11-01", [400, 400, 400, 400, 400])],
    blue: [weighed("2026-11-12", [120, 120, 120, 120, 120])],
  };
  const scoops = {
    red: place("red", { feed: "barley_rolled", order: 1 }), blue: place("blue", { feed: "barley_rolled", order: 2 }),
  };
  const at = (view: View, g: number) => scooped(scoops_for(view, "barley_rolled", "2026-11-20", KEEP_D), g);
  expect(at(farm({ scoops, calibrations }), 400)).toMatchObject({ measure: { id: "red" }, quarters: 4, off_g: 0 });
  expect(at(farm({ scoops, calibrations }), 60)).toMatchObject({ measure: { id: "blue" }, quarters: 2, off_g: 0 });
  const opened = farm({ scoops, calibrations, bags: { barley_rolled: bag("2026-11-10") } });
  expect(at(opened, 400)).toMatchObject({ measure: { id: "blue" }, quarters: 13, off_g: -10 });
  expect(scooped([], 400)).toBeNull();
});

test("a flake is what was weighed, else what stands in the record of the lot", () => {
  const written = `${NOON("2026-10-01").toString(16).padStart(12, "0")}-0000-00000000`;
  const later = `${NOON("2026-10-09").toString(16).padStart(12, "0")}-0000-00000000`;
  const lot = (stamp: RecordRow["stamp"]) => ({
    hay: place("hay", { name: "Hay", feed: "x", flake_g: 1_100, opened_on: "2026-10-05" }, stamp),
  });
  const together = farm({ lots: lot({ flake_g: written, opened_on: written }) });
  expect(flake_of(together, "hay", "2026-11-20", KEEP_D)).toMatchObject({ g: 1_100, on: "2026-10-01", old: "" });
  expect(flake_of(farm({ lots: lot({ flake_g: written, opened_on: later }) }), "hay", "2026-11-20", KEEP_D).old).toBe(
    "lot",
  );
  expect(flake_of({ ...together, bags: { hay: bag("2026-11-10") } }, "hay", "2026-11-20", KEEP_D).old).toBe("bag");
  expect(flake_of(together, "hay", "2027-03-01", KEEP_D).old).toBe("age");
  const now = { ...together, calibrations: { hay: [weighed("2026-11-12", [1_200, 1_300, 1_400], "flake", "hay")] } };
  expect(flake_of(now, "hay", "2026-11-20", KEEP_D)).toMatchObject({ g: 1_300, old: "" });
  expect(measured(now, "hay", "bale", ["hay"], "2026-11-20", KEEP_D).g).toBe(0);
  expect(flake_of(now, "nowhere", "2026-11-20", KEEP_D).g).toBe(0);
});

test.each([
  [[["2026-11-01", 200]], [["2026-11-20", 200]], -1],
  [[["2026-11-01", 200]], [["2026-11-20", 150], ["2026-11-25", 201]], 1],
  [[["2026-11-01", 200], ["2026-11-25", 260]], [["2026-11-20", 200], ["2026-11-25", 260]], -1],
  [[["2026-11-01", 200], ["2026-11-25", 260]], [["2026-11-20", 200], ["2026-11-24", 260]], 1],
  [[], [["2026-11-20", 1]], 0],
  [[], [["2026-11-20", 0]], -1],
] as const)("against %j, %j is first a raise at place %i", (held, steps, want) => {
  const list = (rows: readonly (readonly [string, number])[]) => rows.map(([on, g]): [string, number] => [on, g]);
  expect(first_raise(list(held), list(steps))).toBe(want);
});
