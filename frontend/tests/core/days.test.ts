import { expect, test } from "vitest";
import { addDays, dayOf, FarmZone, isDate } from "../../src/core/days.ts";

test.each(["2026-02-29", "2026-13-01", "2026-1-1", "", "2026-01-01T00", 5, null])("%j is no date", (value) => {
  expect(isDate(value)).toBe(false);
});

test("leap years, year ends and the nights clocks change are one day each", () => {
  expect(addDays("2028-02-28", 1)).toBe("2028-02-29");
  expect(addDays("2026-12-31", 1)).toBe("2027-01-01");
  expect(addDays("2026-03-28", 2)).toBe("2026-03-30");
  expect(dayOf("2026-11-01") - dayOf("2026-06-04")).toBe(150);
});

test("the farm's date is its own, not the phone's and not Greenwich's", () => {
  const late = Date.UTC(2026, 5, 1, 5, 30);
  expect(new FarmZone("America/Los_Angeles").dateAt(late)).toBe("2026-05-31");
  expect(new FarmZone("Europe/Berlin").dateAt(late)).toBe("2026-06-01");
  expect(new FarmZone("Europe/Berlin").hourAt(late)).toBe(7);
  expect(new FarmZone("Europe/Berlin").hourAt(Date.UTC(2026, 5, 1, 22, 10))).toBe(0);
});
