import { expect, it, vi } from "vitest";
import type { DoeResult, OnAct } from "../../src/core/outlook/ground/shapes.ts";
import type { Doe } from "../../src/core/state/view.ts";
import { PHASE } from "../../src/core/tables/codes.ts";
import { restWords, watchOnAct } from "../../src/ui/sentences/resting.ts";

vi.mock("../../src/ui/model/day.svelte.ts", () => ({
  day: { spoken: (on: string) => on, mealDay: (on: string) => on,
    today: "2026-11-20", now: Date.UTC(2026, 10, 20, 12) },
}));
vi.mock("../../src/ui/sentences/amounts.ts", () => ({ ruleOf: (name: string) => (name === "late_day" ? 100 : 21) }));

const ACT = { of: "me", way: "up", on: "2026-11-18", until: "2026-12-16" } as OnAct;

function result(gest: number, act: OnAct | null, due: string): DoeResult {
  const lines = { me: { st: "level" } };
  return {
    phase: PHASE.settled, gest, lines, on_acts: act ? [act] : [], awaited: null,
    due: { early: due, mid: due, late: due, printed: due },
  } as unknown as DoeResult;
}
const doe = { bred: null, check: null, kidded: null, dried_on: "", signs: [] } as unknown as Doe;

it("watches late on a doe who is fed more by her plan, and on no other", () => {
  expect(watchOnAct(result(110, ACT, "2027-01-01"))).toContain("ketones");
  expect(watchOnAct(result(60, ACT, "2027-02-20"))).toBe("");
  expect(watchOnAct(result(110, null, "2027-01-01"))).toBe("");
  expect(watchOnAct(result(110, { ...ACT, way: "down" }, "2027-01-01"))).toBe("");
});

it("names the day an act was worked out to, or that she kids before it", () => {
  expect(restWords(result(60, ACT, "2027-02-20"), doe)).toContain("worked out to 2026-12-16");
  expect(restWords(result(60, ACT, "2026-12-10"), doe)).toContain("until she kids");
});
