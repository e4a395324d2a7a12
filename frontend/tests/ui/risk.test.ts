import { expect, it } from "vitest";
import type { Risk } from "../../src/core/outlook/ground/shapes.ts";
import { riskSaid } from "../../src/ui/doe/risk_said.ts";

/** Late, with nothing that speaks against her. */
function said(more: Partial<Risk>) {
  const calm: Risk = {
    band: "low", points: 0, factors: [], most: "", by_sign: false, unknown: [], blind: false, ...more,
  };
  return riskSaid("toxemia", calm);
}

it("says that nobody has looked where nothing is known, and not that nothing is against her", () => {
  expect(said({ unknown: ["ketones", "litter", "score"], blind: true })).toEqual({
    band: "Toxemia: nobody has looked yet", none: "", unknown: "Not looked at: ketones, how many kids, condition",
  });
});

it("names what was not looked at where only some of it was", () => {
  const { band, unknown } = said({ unknown: ["ketones"] });
  expect([band, unknown]).toEqual(["Toxemia: low by what was looked at", "Not looked at: ketones"]);
});

it("says low risk once all of it was looked at", () => {
  expect(said({})).toEqual({
    band: "Toxemia: low risk", none: "Nothing we know of raises it.", unknown: "",
  });
});

it("lets a sign come before what nobody looked at", () => {
  const { band, unknown } = said({ by_sign: true, band: "urgent", unknown: ["ketones"], blind: true });
  expect(band).toContain("call the vet");
  expect(unknown).toBe("Not looked at: ketones");
});
