import { expect, test } from "vitest";
import { odd_grams } from "../../src/core/barn/odd_grams.ts";
import { FEED_CLASSES } from "../../src/core/tables/forms.ts";

const LB_G = 453.592;
const grams = (pounds: number) => Math.round(pounds * LB_G);

// Bands: common practice, no source.
test("eight ounces typed as eight pounds of grain is asked about, for either size", () => {
  expect(odd_grams("grain", "mini", grams(8), "morning")).toBe("pounds_for_ounces");
  expect(odd_grams("grain", "standard", grams(8), "morning")).toBe("pounds_for_ounces");
  expect(odd_grams("grain", "mini", grams(0.5), "morning")).toBeNull();
});

test.each([
  ["grain", "mini", 700, null], ["grain", "mini", 701, "pounds_for_ounces"], ["grain", "standard", 1_800, null],
  ["grain", "standard", 1_801, "pounds_for_ounces"], ["grain", "mini", 45_000, "more_than_a_meal"],
  ["legume", "mini", 2_500, null], ["legume", "standard", 5_001, "pounds_for_ounces"],
  ["mineral", "mini", 61, "pounds_for_ounces"], ["fat", "standard", 200, null],
  ["fodder", "mini", 1_501, "pounds_for_ounces"],
] as const)("%s for a %s doe, %i g in one meal: %s", (feed_class, size, g, want) => {
  expect(odd_grams(feed_class, size, g, "evening")).toBe(want);
});

test("a whole day's amount is two meals", () => {
  expect(odd_grams("grain", "mini", 1_400, "")).toBeNull();
  expect(odd_grams("grain", "mini", 1_401, "")).toBe("pounds_for_ounces");
});

test("every class of feed has a band, and a feed of no class is not asked about", () => {
  expect(FEED_CLASSES.filter((one) => odd_grams(one, "standard", 59_000, "morning") === null)).toEqual([]);
  expect(odd_grams("", "mini", 59_000, "morning")).toBeNull();
  expect(odd_grams("toString", "mini", 59_000, "morning")).toBeNull();
});
