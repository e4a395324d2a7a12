import { expect, test } from "vitest";
import { waits } from "../../src/core/barn/helper_waits.ts";
import type { Change } from "../../src/core/outlook/gates/change.ts";
import { empty } from "../../src/core/state/empty.ts";
import type { Step, View } from "../../src/core/state/view.ts";
import { doe, ration } from "../support/vet.ts";

/** Day 110 on 1 March. */
const LATE = { from: "2025-11-11", to: "2025-11-11", how: "hand", ev: "b", on: "2025-11-11" };
const EARLY = { ...LATE, from: "2026-01-01", to: "2026-01-01", on: "2026-01-01" };

function farm(bred: typeof LATE | null, ...steps: Step[]): View {
  const fern = doe("fern", { bred, pen: "dry" });
  const rations = { "fern|morning|oats": ration("fern", "morning", "oats", steps) };
  return { ...empty(), does: { fern }, rations };
}

const change = (...steps: Step[]): Change => ({ subject: "fern", feed: "oats", slots: ["morning"], steps });

test("a helper's raise waits, on whatever day it comes, and what is lower does not", () => {
  const view = farm(EARLY, ["2026-02-01", 300], ["2026-03-05", 200]);
  expect(waits(view, change(["2026-03-01", 301]))).toBe("raise");
  expect(waits(view, change(["2026-03-01", 300]))).toBe("raise");
  expect(waits(view, change(["2026-03-01", 300], ["2026-03-05", 200]))).toBe("");
  expect(waits(view, change(["2026-03-01", 100]))).toBe("");
});

test.each([[LATE, 250, "late_cut"], [LATE, 280, ""], [EARLY, 250, ""], [null, 100, ""]] as const)(
  "a cut of a late doe waits, a small or an early one does not", (bred, g, word) => {
    expect(waits(farm(bred, ["2026-02-01", 300]), change(["2026-03-01", g]))).toBe(word);
  },
);

test("a cut planned for the day she is late waits too, one while she is early that only lasts does not", () => {
  const view = farm(EARLY, ["2026-01-05", 300]);
  expect(waits(view, change(["2026-03-01", 300], ["2026-04-20", 100]))).toBe("late_cut");
  expect(waits(view, change(["2026-03-01", 100]))).toBe("");
});

test("what goes into the feeder waits while one of those who eat there is late", () => {
  const planned = ration("dry", "morning", "hay", [["2026-02-01", 4000]]);
  const view = { ...farm(LATE), rations: { "dry|morning|hay": planned } };
  const hay = { subject: "dry", feed: "hay", slots: ["morning"], steps: [["2026-03-01", 3000]] as Step[] };
  expect(waits(view, hay)).toBe("late_cut");
});
