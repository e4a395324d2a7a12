import { describe, expect, test } from "vitest";
import { pack_of, packs, steps_in, when_of } from "../../src/core/barn/packs.ts";
import { back_stands_until, stands_until } from "../../src/core/barn/stands.ts";
import { empty } from "../../src/core/state/empty.ts";
import { fold } from "../../src/core/state/fold.ts";
import type { Ration, Step, View } from "../../src/core/state/view.ts";
import type { Data, Envelope, Json } from "../../src/core/events/events.ts";
import { VERSIONS, type Kind } from "../../src/core/events/kinds.ts";

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

const NOON_MS = 1_794_484_800_000;
function entry(n: number, kind: Kind, subject: string, data: Data): Envelope {
  const [id, hlc] = [`e${n}`, `00000000000${n}-0000-0000000a`];
  const when = { on: "2026-11-12", slot: "morning", happened: NOON_MS + n, entered: NOON_MS + n };
  return { id, kind, v: VERSIONS[kind], subject, ...when, hlc, author: "jory", device: "d", data };
}
const plan = (n: number, ...steps: Step[]) =>
  entry(n, "ration", "ivy", {
    to: "doe", slot: "morning", feed: "oats", steps: steps.map(([on, g]) => ({ on, g })), base: "",
  });
const back = (n: number, of: string) => entry(n, "void", "ivy", { of });
const LOG = [plan(1, ["2026-11-01", 300]), plan(2, ["2026-12-03", 350]), plan(3, ["2026-12-06", 400])];
const HER = entry(0, "doe", "ivy", { f: { name: "Ivy" }, base: {} });
const until = (log: Envelope[], ...ids: string[]) =>
  back_stands_until({ ...fold([HER, ...log]), packs: farm().packs }, [HER, ...log], ids);

describe("what somebody planned, taken back or put back", () => {
  test.each([
    ["e1", "2026-12-05"],
    ["e2", "2026-12-05"],
    ["e3", ""],
    ["no such entry", ""],
  ])("300 g, from the 3rd 350, from the 6th 400; taking back %s: %s", (id, on) => {
    expect(until(LOG, id)).toBe(on);
  });

  test("of several the plan is looked at with none of them", () => {
    expect(until([plan(1, ["2026-11-01", 300]), plan(2, ["2026-12-03", 300])], "e2")).toBe("");
    expect(until([plan(1, ["2026-11-01", 300]), plan(2, ["2026-12-03", 300])], "e2", "e1")).toBe("2026-12-05");
    expect(until([...LOG, plan(4, ["2026-12-01", 300]), plan(5, ["2026-12-01", 300])], "e5")).toBe("");
  });

  test("what counts again changes it as much", () => {
    const log = [...LOG, back(6, "e2"), back(7, "e3")];
    expect(until(log, "e6")).toBe("2026-12-05");
    expect(until(log, "e7")).toBe("");
  });

  test("without a pack nothing stands", () => {
    expect(back_stands_until(fold([HER, ...LOG]), [HER, ...LOG], ["e2"])).toBe("");
  });
});
