import "../support/words.ts";
import { render } from "svelte/server";
import { expect, it } from "vitest";
import type { Risk } from "../../src/core/outlook/ground/shapes.ts";
import Risk_ from "../../src/ui/doe/Risk.svelte";
import { t } from "../../src/ui/words/text.ts";

/** Late, with nothing that speaks against her. */
function shown(more: Partial<Risk>): string {
  const calm: Risk = {
    band: "low", points: 0, factors: [], most: "", by_sign: false, unknown: [], blind: false, ...more,
  };
  return render(Risk_, { props: { risk: { toxemia: calm, milk_fever: null } } }).body;
}

it("says that nobody has looked where nothing is known, and not that nothing is against her", () => {
  const said = shown({ unknown: ["ketones", "litter", "score"], blind: true });
  expect(said).toContain(t("risk.band.blind"));
  expect(said).toContain("Not looked at: ketones, how many kids, condition");
  for (const comfort of ["risk.band.low", "risk.band.part", "risk.none"]) expect(said).not.toContain(t(comfort));
});

it("names what was not looked at where only some of it was", () => {
  const said = shown({ unknown: ["ketones"] });
  expect(said).toContain(t("risk.band.part"));
  expect(said).toContain("Not looked at: ketones");
  expect(said).not.toContain(t("risk.band.low"));
});

it("says nothing much against her once all of it was looked at", () => {
  const said = shown({});
  expect(said).toContain(t("risk.band.low"));
  expect(said).not.toContain("Not looked at");
});

it("lets a sign come before what nobody looked at", () => {
  const said = shown({ by_sign: true, band: "urgent", unknown: ["ketones"] });
  expect(said).toContain(t("risk.band.sign"));
});
