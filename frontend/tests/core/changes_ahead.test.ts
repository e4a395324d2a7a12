import { expect, test } from "vitest";
import { changes_ahead } from "../../src/core/outlook/feeding/plan.ts";
import { Context } from "../../src/core/outlook/ground/context.ts";
import { NO_BOOK } from "../../src/core/outlook/ground/herd_figures.ts";
import { fold } from "../../src/core/state/fold.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import type { Ration } from "../../src/core/state/view.ts";

/** What her page lists as coming: what is really to be given from a day on. */
const TODAY = "2026-11-25";
let ticks = 0;

function event(kind: string, subject: string, on: string, data: Envelope["data"]): Envelope {
  ticks += 1;
  const hlc = `${ticks.toString(16).padStart(12, "0")}-0000-00000000`;
  const happened = Date.parse(`${on}T06:00:00Z`) + ticks;
  return {
    id: `e${String(ticks).padStart(4, "0")}`, kind, v: 1, subject, on, slot: "", happened, entered: happened, hlc,
    author: "a", device: "d", data,
  };
}

const steps = (...of: [string, number][]) => of.map(([on, g]) => ({ on, g }));
const barley = event("ration", "fern", "2026-11-10", {
  to: "doe", slot: "evening", feed: "b", base: "",
  steps: steps(["2026-11-10", 50], ["2026-11-20", 100], ["2026-11-27", 150]),
});

function coming(...more: Envelope[]) {
  const of_grain = event("feed", "b", "2026-11-01", { f: { name: "Barley", class: "grain" }, base: {} });
  const view = fold([event("doe", "fern", "2026-11-01", { f: { name: "Fern" }, base: {} }), of_grain, barley, ...more]);
  const ctx = new Context(view, {}, NO_BOOK, TODAY);
  return changes_ahead(ctx, Object.values(view.rations)[0] as Ration);
}

test("steps come on their days", () => {
  expect(coming()).toEqual([["2026-11-27", 150]]);
});

test("what a hold has put off stands at the day it comes, and what it holds at its end", () => {
  const held = event("freeze", "fern", "2026-11-19", { until_on: "2026-11-26", grain_out: false, of: "" });
  // eight days later each
  expect(coming(held)).toEqual([["2026-11-28", 100], ["2026-12-05", 150]]);
});

test("no grain until a hold ends, and then what she had", () => {
  const out = event("freeze", "fern", "2026-11-24", { until_on: "2026-11-26", grain_out: true, of: "" });
  expect(coming(out)).toEqual([["2026-11-27", 100], ["2026-11-30", 150]]);
});
