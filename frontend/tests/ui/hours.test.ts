import { describe, expect, it } from "vitest";
import { mealsPlanned } from "../../src/ui/model/herd.ts";
import { dateAt, mealAt } from "../../src/ui/model/hours.ts";
import type { View } from "../../src/ui/model/shapes.ts";

describe("the meal nearest now", () => {
  const TWICE = ["evening", "morning"];
  it.each([
    [5, "morning"], [10, "morning"], [12, "morning"], [13, "evening"], [14, "evening"], [19, "evening"],
  ])("at %i, fed twice a day: %s", (hour, slot) => expect(mealAt(hour, TWICE)).toBe(slot));

  it("is the hour's own where something is planned for it, or nothing at all", () => {
    expect(mealAt(12, ["midday", ...TWICE])).toBe("midday");
    expect(mealAt(12, [])).toBe("midday");
    expect(mealAt(17, ["morning"])).toBe("morning");
  });
  it("is the last look late, and before first light", () => {
    expect(mealAt(22, TWICE)).toBe("late");
    expect(mealAt(3, TWICE)).toBe("late");
  });
});

describe("the meals something is planned for", () => {
  const ration = (subject: string, slot: string, steps: [string, number][]) => ({ subject, slot, feed: "hay", steps });
  const view = {
    pens: { barn: {} }, does: { linnet: { left_on: "" }, gone: { left_on: "2026-01-01" } },
    rations: {
      a: ration("barn", "morning", [["2026-01-01", 900]]), b: ration("linnet", "evening", [["2026-02-01", 200]]),
      c: ration("gone", "midday", [["2026-01-01", 200]]),
      d: ration("barn", "late", [["2026-01-01", 900], ["2026-01-20", 0]]),
    },
  } as unknown as View;
  it("leaves out who is gone, what is ended and what is to come", () => {
    expect(mealsPlanned(view, "2026-01-31")).toEqual(["morning"]);
    expect(mealsPlanned(view, "2026-02-01")).toEqual(["morning", "evening"]);
  });
});

it("what was seen past midnight and is kept under the evening before is told with the date of its hour", () => {
  const at = Date.parse("2026-12-01T02:36:00Z");
  expect(dateAt("2026-11-30", at, "UTC")).toBe("2026-12-01");
  expect(dateAt("2026-12-01", at, "UTC")).toBe("2026-12-01");
  expect(dateAt("2026-11-30", 0, "UTC")).toBe("2026-11-30");
  // written down long after, its day is all that is known
  expect(dateAt("2026-11-20", at, "UTC")).toBe("2026-11-20");
});
