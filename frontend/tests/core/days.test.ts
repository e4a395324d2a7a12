import { jar_day } from "../../src/core/barn/bags.ts";
import { expect, test } from "vitest";
import { addDays, dayOf, FarmZone, isDate } from "../../src/core/base/days.ts";

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

test("the clock of the days around, kept, says what the zone itself says, and ends before clocks are changed", () => {
  const before = Date.UTC(2026, 9, 24, 12, 20);
  const changed_at = Date.UTC(2026, 9, 25, 1, 0);
  const span = new FarmZone("Europe/Berlin").spanAround(before);
  expect(span).toMatchObject({ from: Date.UTC(2026, 9, 20, 12, 0), offset_ms: 2 * 3_600_000 });
  expect(span.to).toBeGreaterThan(before);
  expect(span.to).toBeLessThanOrEqual(changed_at);
  const [asked, kept] = [new FarmZone("Europe/Paris"), new FarmZone("Europe/Rome")];
  kept.trust(span);
  for (let at = span.from; at < span.to + 7_200_000; at += 1_260_000) expect(kept.at(at)).toEqual(asked.at(at));
});

test("a zone half an hour off, and times before 1970", () => {
  const zone = new FarmZone("Asia/Kolkata");
  const at = Date.UTC(2026, 0, 1, 18, 40);
  const before = zone.at(at);
  zone.trust(zone.spanAround(at));
  expect(zone.at(at)).toEqual(before);
  expect(zone.at(at)).toEqual({ date: "2026-01-02", hour: 0, minute: 10 });
  expect(new FarmZone("UTC").at(-60_000)).toEqual({ date: "1969-12-31", hour: 23, minute: 59 });
});

test.each([
  ["9999-12-31", 14, "9999-12-31"], ["9999-12-20", 14, "9999-12-31"], ["9999-12-20", 11, "9999-12-31"],
  ["2026-11-02", 10 ** 12, "9999-12-31"], ["2026-11-02", -(10 ** 12), "0001-01-01"], ["9999-12-20", 10, "9999-12-30"],
])("%s and %i days is a date: %s", (date, days, want) => {
  expect(addDays(date, days)).toBe(want);
});

test("a jar soaked on the last of all days has days to be told", () => {
  const { day, ready_on, last_on, last_day } = jar_day({ soaked_on: "9999-12-31", days: 6 }, "2026-11-02");
  expect([ready_on, last_on]).toEqual(["9999-12-31", "9999-12-31"]);
  expect([day, last_day].every(Number.isSafeInteger)).toBe(true);
});
