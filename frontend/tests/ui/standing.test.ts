import { expect, it } from "vitest";
import type { DoeResult } from "../../src/core/outlook/ground/shapes.ts";
import { standOf } from "../../src/ui/sentences/standing.ts";

const marked = (code: string, st = "level") =>
  standOf({ standing: "ok", prompt: code ? { code } : null, lines: { me: { st } } } as unknown as DoeResult).level;

it("marks no doe level beside a call to the vet, or while she is off her feed", () => {
  for (const code of ["off_feed_vet", "off_feed_now", "ketones_vet", "labour_vet"]) expect(marked(code)).toBe("cant");
});

it("marks what her word speaks of, else her energy", () => {
  expect([marked("energy_short"), marked("calcium_over"), marked("steps_ahead"), marked("")]).toEqual([
    "short", "over", "level", "level",
  ]);
  expect(marked("", "unknown")).toBe("cant");
});
