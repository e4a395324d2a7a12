import { expect, test } from "vitest";
import {
  heads, held_until, is_over, last_round, looks_are_late, recheck, unconfirmed, usual_ms,
} from "../../src/core/barn/chores.ts";
import { fold } from "../../src/core/state/fold.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import type { Line } from "../../src/core/state/view.ts";
import { FARM } from "../support/farm.ts";

const DOES = ["d1", "d2", "d3"];
const [TODAY, YESTERDAY] = ["2026-11-25", "2026-11-24"];
const MORNING = { on: TODAY, slot: "morning" };
let ticks = 0;

function event(kind: string, subject: string, data: Envelope["data"], more: Partial<Envelope> = {}): Envelope {
  ticks += 1;
  const happened = Date.UTC(2026, 10, 25, 5) + ticks * 60_000;
  const hlc = `${happened.toString(16).padStart(12, "0")}-0000-00000000`;
  return {
    id: `e${String(ticks).padStart(4, "0")}`, kind, v: 1, subject, on: TODAY, slot: "morning", happened,
    entered: happened, hlc, author: "a", device: "d", data, ...more,
  };
}
const herd = () => DOES.map((id) => event("doe", id, { f: { name: id }, base: {} }));
const counted = (subject: string, count: number, of: number, more: Partial<Envelope> = {}) =>
  event("round", subject, { what: "heads", count, of }, more);

test("nobody has counted yet: how many should be here, whoever left the herd not among them", () => {
  const view = fold([...herd(), event("left_herd", "d3", { why: "sold" })]);
  expect(heads(view, FARM, MORNING)).toEqual({ of: 2, told: undefined, missing: [] });
});

test("all here: said once for this round, and not for the next", () => {
  const view = fold([...herd(), counted(FARM, 3, 3)]);
  expect(heads(view, FARM, MORNING).told).toMatchObject({ count: 3, of: 3, author: "a" });
  expect(heads(view, FARM, { on: TODAY, slot: "evening" }).told).toBeUndefined();
});

test("one is missing until somebody finds her, in whichever round", () => {
  const away = [...herd(), counted("d2", 0, 1), counted(FARM, 2, 3)];
  const missing = (...more: Envelope[]) => heads(fold([...away, ...more]), FARM, MORNING).missing;
  expect(missing()).toEqual(["d2"]);
  expect(heads(fold(away), FARM, { on: TODAY, slot: "evening" }).missing).toEqual(["d2"]);
  expect(missing(counted("d2", 1, 1))).toEqual([]);
  expect(missing(counted(FARM, 3, 3, { slot: "evening" }))).toEqual([]);
  expect(missing(event("intake", "d2", { how: "slow", left_pct: 0, feed: "", fed: "" }))).toEqual([]);
  expect(missing(event("intake", "d1", { how: "slow", left_pct: 0, feed: "", fed: "" }))).toEqual(["d2"]);
});

test("a doe seen early and missing at the count is missing", () => {
  const view = fold([
    ...herd(), event("intake", "d2", { how: "ate_all", left_pct: 0, feed: "", fed: "" }), counted("d2", 0, 1),
  ]);
  expect(heads(view, FARM, MORNING).missing).toEqual(["d2"]);
});

test("taking the count back takes it back", () => {
  const round = counted("d2", 0, 1);
  const view = fold([...herd(), round, event("void", "d2", { of: round.id })]);
  expect(heads(view, FARM, MORNING).missing).toEqual([]);
});

test("the last look of a round is the last word about it", () => {
  const view = fold([
    event("round", FARM, { what: "gates", count: 0, of: 0 }),
    event("round", FARM, { what: "gates", count: 0, of: 0 }, { author: "b" }),
  ]);
  expect(last_round(view, FARM, "gates", MORNING)?.author).toBe("b");
  expect(last_round(view, FARM, "water", MORNING)).toBeUndefined();
});

const plan = (pen: string, _on: string, slot: string): Line[] =>
  slot === "morning" || (pen === "p1" && slot === "evening") ? [["", "hay", 900]] : [];
const fed = (pen: string, on: string, slot: Envelope["slot"]) =>
  event("fed", pen, { lines: [{ to: "", feed: "hay", g: 900 }], adds: false }, { on, slot });
const pens = () => ["p1", "p2"].map((id) => event("pen", id, { f: { name: id }, base: {} }));

test("meals of the last day that nobody confirmed, and none of this feeding or of one with nothing planned", () => {
  const view = fold([...pens(), fed("p1", YESTERDAY, "evening"), fed("p2", TODAY, "morning")]);
  const said = (slot: string) =>
    unconfirmed(view, ["p1", "p2"], plan, { on: TODAY, slot }).map((meal) => `${meal.pen} ${meal.on} ${meal.slot}`);
  expect(said("morning")).toEqual([`p1 ${YESTERDAY} morning`, `p2 ${YESTERDAY} morning`]);
  expect(said("evening")).toEqual([`p1 ${TODAY} morning`]);
  const over = unconfirmed(view, ["p1", "p2"], plan, { on: TODAY, slot: "evening" }, true);
  expect(over.map((meal) => `${meal.pen} ${meal.slot}`)).toEqual(["p1 morning", "p1 evening"]);
});

test("said not to have been fed is an answer too", () => {
  const none = event("fed", "p1", { lines: [{ to: "", feed: "hay", g: 0 }], adds: false });
  const view = fold([...pens(), none, fed("p1", YESTERDAY, "evening")]);
  expect(unconfirmed(view, ["p1"], plan, { on: TODAY, slot: "evening" })).toEqual([]);
});

test("a meal is given its usual hour, never one still to come", () => {
  const now = Date.UTC(2026, 10, 25, 17, 20);
  expect(usual_ms(MORNING, now, TODAY, 17)).toBe(Date.UTC(2026, 10, 25, 7));
  expect(usual_ms({ on: YESTERDAY, slot: "evening" }, now, TODAY, 17)).toBe(Date.UTC(2026, 10, 24, 18));
  expect(usual_ms({ on: TODAY, slot: "late" }, now, TODAY, 17)).toBe(now);
});

test.each([
  ["morning", "midday", 12, true], ["morning", "morning", 9, false], ["evening", "midday", 12, false],
  ["morning", "late", 1, false],
] as const)("%s when it is %s by the clock, %d o'clock: over %s", (slot, now, hour, over) => {
  expect(is_over(slot, now, hour)).toBe(over);
});

test("the clock counts down, and then up", () => {
  expect(recheck(90_000, 30_000)).toEqual({ minutes: 1, over: false });
  expect(recheck(90_000, 90_000)).toEqual({ minutes: 0, over: true });
  expect(recheck(0, 600_000)).toEqual({ minutes: -10, over: true });
  expect([looks_are_late(10), looks_are_late(11)]).toEqual([false, true]);
});

test.each([
  ["left_some", "early", "2026-11-26"], ["slow", "milk", "2026-11-26"], ["ate_all", "fresh", ""],
  ["left_some", "late", "2026-11-27"], ["left_some", "fresh", "2026-11-27"], ["refused", "early", "2026-11-27"],
  ["refused", "open", "2026-11-27"], ["not_up", "milk", "2026-11-27"], ["slow", "last_weeks", "2026-11-27"],
])("%s, %s: grain is held until %j", (how, stage, until) => {
  expect(held_until(how, stage, TODAY)).toBe(until);
});
