import { expect, test } from "vitest";
import { pack_of, packs, steps_in, when_of } from "../../src/core/barn/packs.ts";
import { stands_until } from "../../src/core/barn/stands.ts";
import { empty } from "../../src/core/state/fold.ts";
import type { Ration, Step, View } from "../../src/core/state/view.ts";
import type { Json } from "../../src/core/events/events.ts";

const row = (id: string, f: Record<string, Json>) => ({ id, f, stamp: {}, by: {} });
const ration = (slot: string, ...steps: Step[]): Ration => ({
  subject: "ivy", slot, feed: "oats", steps, marks: [], hlc: "", ev: "",
});

function farm(...given: Ration[]): View {
  const view = empty();
  view.pens["ivy"] = row("ivy", { name: "Ivy" });
  view.packs["p"] = row("p", { from_on: "2026-12-01", to_on: "2026-12-05", look: ["a"], look_slots: ["morning"] });
  for (const one of given) view.rations[`ivy|${one.slot}|oats`] = one;
  return view;
}
const wants = (...steps: Step[]) => ({ subject: "ivy", feed: "oats", slots: ["morning"], steps });

test.each([
  [[["2026-12-01", 250]], "2026-12-05"],
  [[["2026-12-05", 250]], "2026-12-05"],
  [[["2026-11-20", 250]], "2026-12-05"],
  [[["2026-12-04", 250], ["2026-12-06", 300]], "2026-12-05"],
  [[["2026-12-06", 250]], ""],
  [[["2026-11-20", 400], ["2026-12-01", 300], ["2026-12-06", 600]], ""],
  [[["2026-12-03", 300]], ""],
] as [Step[], string][])("300 g stand from 1 to 5 December; wanted %j: %s", (steps, until) => {
  const view = farm(ration("morning", ["2026-11-01", 300]));
  expect(stands_until(view, wants(...steps))).toBe(until);
});

test("a pack that was taken away holds nothing, nor does one whose last day is before its first", () => {
  const view = farm(ration("morning", ["2026-11-01", 300]));
  view.packs["p"]!.f["gone"] = true;
  view.packs["q"] = row("q", { from_on: "2026-12-09", to_on: "2026-12-02" });
  expect(stands_until(view, wants(["2026-12-02", 1]))).toBe("");
  expect(pack_of(view, "p")).toBeUndefined();
  expect(packs(view).map(({ id }) => id)).toEqual(["q"]);
});

test("the last of several days is told", () => {
  const view = farm(ration("morning", ["2026-11-01", 300]));
  view.packs["q"] = row("q", { from_on: "2026-12-04", to_on: "2026-12-09" });
  expect(stands_until(view, wants(["2026-11-02", 1]))).toBe("2026-12-09");
});

test("steps saved before are told once for the meals they are the same at, by their day", () => {
  const both: Step[] = [["2026-11-01", 300], ["2026-12-03", 400], ["2026-12-09", 500]];
  const view = farm(ration("evening", ...both), ration("morning", ...both));
  view.rations["ivy|late|oats"] = ration("late", ["2026-11-01", 10], ["2026-12-02", 0], ["2026-12-04", 0]);
  expect(steps_in(view, "2026-12-01", "2026-12-05").map(({ on, from, g, slots }) => [on, from, g, slots])).toEqual([
    ["2026-12-02", 10, 0, ["late"]],
    ["2026-12-03", 300, 400, ["morning", "evening"]],
  ]);
});

test.each([["2026-11-30", "coming"], ["2026-12-01", "now"], ["2026-12-05", "now"], ["2026-12-06", "past"]])(
  "on %s it is %s", (today, when) => {
    expect(when_of({ from_on: "2026-12-01", to_on: "2026-12-05" }, today)).toBe(when);
  },
);
