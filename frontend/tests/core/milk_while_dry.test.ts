import { expect, test } from "vitest";
import { milk_while_dry } from "../../src/core/barn/questions.ts";
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
