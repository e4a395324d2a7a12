import { expect, test } from "vitest";
import { along } from "../../src/ui/due/along.ts";

const window = (early: string, late: string) => ({ early, late });

test("the drawn line begins today and ends with the last window", () => {
  const x = along([window("2026-12-10", "2026-12-22"), window("2027-02-01", "2027-03-10")], "2026-11-30");
  expect(x("2026-11-30")).toBe(0);
  expect(x("2027-03-10")).toBe(1000);
  expect(x("2026-12-10")).toBe(100);
});

test("a window that began before today begins the line, over a leap day and a clock change alike", () => {
  const x = along([window("2028-02-20", "2028-03-05"), window("2028-03-20", "2028-04-02")], "2028-02-28");
  expect(x("2028-02-20")).toBe(0);
  expect(x("2028-02-28")).toBe(190);
  expect(x("2028-04-02")).toBe(1000);
});

test("nobody with a date is a line of no length", () => {
  expect(along([], "2026-11-30")("2026-11-30")).toBe(0);
});
