import { expect, test } from "vitest";
import { milk_while_dry, udder_due } from "../../src/core/barn/questions.ts";
import { unsaid_last } from "../../src/core/outlook/plans/last_milking.ts";
import type { Doe } from "../../src/core/state/view.ts";
import { PHASE } from "../../src/core/tables/codes.ts";
import { doe, TODAY } from "../support/vet.ts";

const milk = (on: string, g = 900): Doe["milks"] => [[on, g, "morning", 0, "m"]];
const asked = (more: Partial<Doe>, phase: number) => milk_while_dry(doe("clary", more), phase, TODAY)?.dried_on;

test("milk weighed after she was dried off is asked about, and not once she is said to be dry since", () => {
  expect(asked({ dried_on: "2026-03-01", milks: milk("2026-03-28") }, PHASE.dry)).toBe("2026-03-01");
  expect(asked({ dried_on: "2026-03-31", milks: milk("2026-03-28") }, PHASE.dry)).toBeUndefined();
});

test("milk of a doe nobody said had kidded is asked about, one in milk is not, nor one nobody has numbers for", () => {
  expect(asked({ milks: milk("2026-03-28") }, PHASE.dry)).toBe("");
  expect(asked({ milks: milk("2026-03-28") }, PHASE.in_milk)).toBeUndefined();
  expect(asked({ milks: milk("2026-03-28") }, PHASE.drying_off)).toBeUndefined();
  expect(asked({ milks: milk("2026-03-28") }, -1)).toBeUndefined();
});

test("none that came, and milk of long ago, say nothing", () => {
  expect(asked({ dried_on: "2026-01-01", milks: milk("2026-03-28", 0) }, PHASE.dry)).toBeUndefined();
  expect(asked({ dried_on: "2026-01-01", milks: milk("2026-03-01") }, PHASE.dry)).toBeUndefined();
});

test("a planned last milking that is past is asked about, and her udder felt meanwhile, until somebody says how it was", () => {
  const dry_plan = { on: "2026-03-01", last_on: "2026-03-28", way: "gradual", ev: "p" };
  const bred = { from: "2025-12-01", to: "2025-12-01", how: "hand", ev: "b", on: "2025-12-01" };
  const her = (more: Partial<Doe>) => doe("clary", { bred, dry_plan, ...more });
  expect(unsaid_last(her({}), TODAY)).toBe("2026-03-28");
  expect(udder_due(her({}), TODAY)).toBeGreaterThan(0);
  expect(unsaid_last(her({}), "2026-03-28")).toBe("");
  expect(unsaid_last(her({ dried_on: "2026-03-28" }), TODAY)).toBe("");
  expect(unsaid_last(her({ milks: milk("2026-03-29") }), TODAY)).toBe("");
  expect(udder_due(her({ dry_plan: null }), TODAY)).toBe(-1);
});
