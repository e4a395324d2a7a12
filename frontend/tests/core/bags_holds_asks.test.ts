import { expect, test } from "vitest";
import { first_rise, slim_check, uneven_udder } from "../../src/core/barn/questions.ts";
import { jar_day, use_by } from "../../src/core/barn/bags.ts";
import { carrying, hold, holds } from "../../src/core/barn/holds.ts";
import { fold } from "../../src/core/state/fold.ts";
import { new_doe } from "../../src/core/state/doe_state.ts";
import type { Checkup, Doe, Treatment, View } from "../../src/core/state/view.ts";

const TODAY = "2026-11-25";
const treated = (part: Partial<Treatment>): Treatment => ({
  ev: "t", on: "2026-11-20", author: "a", product: "Something", told: "", why: "", who: "vet", milk_until: "",
  meat_until: "", carries: [],
  ...part,
});
const doe = (part: Partial<Doe>): Doe => ({ ...new_doe("d"), ...part });

function opened(f: Record<string, string | number>, bag_on = ""): View {
  const bags: View["bags"] = bag_on ? { bag: [{ ev: "b", on: bag_on, happened: 1 }] } : {};
  return { ...fold([]), lots: { bag: { id: "bag", f, stamp: {}, by: {} } }, bags };
}

test("an opened bag that ferments has a last day, and a new bag starts it anew", () => {
  const of = (view: View) => use_by(view, "bag", TODAY);
  expect(of(opened({ use_by_d: 5, opened_on: "2026-11-20" }))).toEqual({
    opened_on: "2026-11-20", until_on: TODAY, past: false, open_d: 5,
  });
  expect(of(opened({ use_by_d: 5, opened_on: "2026-11-19" }))).toMatchObject({ past: true, open_d: 6 });
  expect(of(opened({ use_by_d: 5, opened_on: "2026-11-10" }, "2026-11-24"))).toMatchObject({
    until_on: "2026-11-29", past: false,
  });
  expect(of(opened({ use_by_d: 0, opened_on: "2026-11-10" }))).toBeNull();
  expect(of(opened({ use_by_d: 5, opened_on: "" }))).toBeNull();
  expect(of(opened({}))).toBeNull();
  expect(use_by(opened({}), "nowhere", TODAY)).toBeNull();
});

test.each([
  ["2026-11-25", 0, "growing"], ["2026-11-30", 5, "growing"], ["2026-12-01", 6, "ready"],
  ["2026-12-02", 7, "ready"], ["2026-12-03", 8, "past"],
] as const)("a jar of six days soaked on the 25th, on %s: day %i, %s", (today, day, st) => {
  const found = jar_day({ soaked_on: "2026-11-25", days: 6 }, today, 1);
  expect(found).toMatchObject({ day, st, ready_on: "2026-12-01", last_on: "2026-12-02", last_day: 7 });
});

test("what became of a jar stands whatever day it is", () => {
  expect(jar_day({ soaked_on: "2026-11-01", days: 6, done_on: "2026-11-07" }, TODAY).st).toBe("fed");
  expect(jar_day({ soaked_on: "2026-11-01", days: 6, done_on: "2026-11-09", thrown: true }, TODAY).st).toBe("thrown");
});

test("a hold stands through its last day; the latest counts and all products are named", () => {
  const one = doe({
    treatments: [treated({ milk_until: TODAY, product: "A" }), treated({ milk_until: "2026-11-28", product: "B" })],
  });
  expect(hold(one, "milk", TODAY)).toEqual({ of: "milk", until: "2026-11-28", products: ["A", "B"] });
  expect(hold(one, "milk", "2026-11-28")).toMatchObject({ products: ["B"] });
  expect(hold(one, "milk", "2026-11-29")).toBeNull();
  expect(hold(one, "meat", TODAY)).toBeNull();
  expect(
    holds(doe({ treatments: [treated({ milk_until: TODAY, meat_until: TODAY })] }), TODAY).map(({ of }) => of),
  ).toEqual(["milk", "meat"]);
  expect(holds({ ...one, left_on: "2026-11-24" }, TODAY)).toEqual([]);
});

test("treatments that carry a mineral are found for half a year", () => {
  const one = doe({
    treatments: [
      treated({ on: "2026-05-01", carries: ["selenium"] }), treated({ carries: ["copper"] }),
      treated({ carries: ["selenium"] }),
    ],
  });
  expect(carrying(one, "selenium", TODAY).map(({ on }) => on)).toEqual(["2026-11-20"]);
  expect(carrying(one, "copper", TODAY)).toHaveLength(1);
});

// Day 70 to 90: common practice, no source.
test.each([
  [69, "", false], [70, "", true], [90, "2026-11-10", true], [80, "2026-11-11", false], [91, "", false],
  [-1, "", false],
])("at day %i, last scored %s: asked for a score is %s", (gest, scored, asked) => {
  const scores: Doe["scores"] = scored ? [[scored, 300, "a", "s"]] : [];
  expect(slim_check(doe({ scores }), gest, TODAY)).toBe(asked);
});

test("an uneven udder is said until somebody has felt it or seen it even", () => {
  const uneven: Doe["udder"] = [["2026-11-20", 3, true, "a", "ev-5", ""]];
  const felt = (on: string, ev: string, udder: string): Checkup => [
    on, 1, 0, 0, "", "a", ev, { cud: "", dung: "", legs: "", eyes: 0, udder, belly: "" },
  ];
  expect(uneven_udder(doe({ udder: uneven }))).toEqual({ on: "2026-11-20", author: "a" });
  expect(uneven_udder(doe({ udder: [...uneven, ["2026-11-21", 3, false, "a", "ev-6", ""]] }))).toBeNull();
  expect(uneven_udder(doe({ udder: uneven, checkups: [felt("2026-11-20", "ev-4", "fine")] }))).not.toBeNull();
  expect(uneven_udder(doe({ udder: uneven, checkups: [felt("2026-11-20", "ev-6", "fine")] }))).toBeNull();
  expect(uneven_udder(doe({ udder: uneven, checkups: [felt("2026-11-22", "ev-9", "")] }))).not.toBeNull();
  expect(uneven_udder(doe({}))).toBeNull();
});

test("a raise that comes within three days, or came since the weight went old, is known: the scoop is weighed for it", () => {
  const steps: [string, number][] = [
    ["2026-11-01", 200], ["2026-11-24", 260], ["2026-11-27", 300], ["2026-11-28", 100], ["2026-12-05", 400],
  ];
  const view = {
    ...fold([]),
    rations: {
      "d|morning|barley": { subject: "d", slot: "morning", feed: "barley", steps, marks: [], hlc: "", ev: "" },
    },
  };
  expect(first_rise(view, "barley", "2026-11-25", "2026-11-25")).toBe("2026-11-27");
  expect(first_rise(view, "barley", "2026-11-20", "2026-11-25")).toBe("2026-11-24");
  expect(first_rise(view, "barley", "2026-11-24", "2026-11-24")).toBe("2026-11-24");
  expect(first_rise(view, "barley", "2026-11-28", "2026-11-28")).toBe("");
  expect(first_rise(view, "oats", "2026-11-01", "2026-11-25")).toBe("");
});
