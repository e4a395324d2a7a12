import { expect, test } from "vitest";
import { kiddedBefore } from "../../src/ui/farm/kidded_before.ts";
import { bredWhen, onWeek, sizeFields } from "../../src/ui/setup/facts.ts";

const TODAY = "2026-11-20";

test("about so many weeks ago is a window of a week either way, and a day is a day", () => {
  expect(bredWhen("10", TODAY)).toEqual({ from_on: "2026-09-04", to_on: "2026-09-18", how: "pen" });
  expect(bredWhen("2026-09-11", TODAY)).toEqual({ from_on: "2026-09-11", to_on: "2026-09-11", how: "hand" });
  expect([bredWhen("no", TODAY), bredWhen("unsure", TODAY), bredWhen("", TODAY)]).toEqual([null, null, null]);
});

test("the last day of any window offered lies behind", () => {
  for (const weeks of [2, 4, 20]) expect(bredWhen(String(weeks), TODAY)!.to_on < TODAY).toBe(true);
  expect(onWeek("4", TODAY)).toBe("2026-10-23");
});

test("large is a standard doe with a grown weight of her own; a dry doe has kidded before", () => {
  expect(sizeFields("large")).toEqual({ size: "standard", mature_kg: 75 });
  expect(sizeFields("mini")).toEqual({ size: "mini" });
  expect([kiddedBefore("dry", 0), kiddedBefore("dry", 3), kiddedBefore("never", 0)]).toEqual([1, 3, 0]);
});
