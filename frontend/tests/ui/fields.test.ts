import { expect, test } from "vitest";
import { faultText } from "../../src/ui/forms/faults.ts";
import { toData, toKept, toRaw, type Field } from "../../src/ui/forms/fields.ts";

const weight: Field = { key: "g", kind: "number", mass: 1000 };
const protein: Field = { key: "cp_pct_x10", kind: "number", scale: 10, unit: "%", blank: null };

test("a weight is kept in grams, whatever the farm types", () => {
  expect(toKept(weight, "31.5", "metric")).toBe(31_500);
  expect(toKept(weight, "31,5", "metric")).toBe(31_500);
  expect(toKept(weight, "70", "lb")).toBe(31_751);
  expect(toRaw(weight, 31_751, "lb")).toBe("69.999");
});

test("an empty value is unknown, never zero", () => {
  expect(toKept(protein, "", "metric")).toBeNull();
  expect(toKept(protein, "0", "metric")).toBe(0);
  expect(toRaw(protein, null, "metric")).toBe("");
});

test("what cannot be read or is not given is named, not guessed", () => {
  const { data, missing } = toData([weight, protein], { g: "ten", cp_pct_x10: "12.5" }, "metric");
  expect(data).toEqual({ cp_pct_x10: 125 });
  expect(missing).toEqual([weight]);
});

test("a hidden question is answered with its blank", () => {
  const kids: Field = { key: "kids", kind: "choice", scale: 1, blank: 0, show: ({ result }) => result === "pregnant" };
  expect(toData([kids], { kids: "2", result: "open" }, "metric").data).toEqual({ kids: 0 });
  expect(toData([kids], { kids: "2", result: "pregnant" }, "metric").data).toEqual({ kids: 2 });
});

test("limits are told in the unit that was typed", () => {
  expect(faultText({ code: "range", low: 500, high: 250_000 }, weight, "metric")).toBe(
    "Type a number from 0.5 kg to 250 kg.",
  );
  expect(faultText({ code: "range", low: 500, high: 250_000 }, weight, "lb")).toBe(
    "Type a number from 1.1 lb to 551.16 lb.",
  );
});

test("a weight read off in the other unit is kept as the same grams, and its limits are told in that unit", () => {
  const grain: Field = { key: "dry_g", kind: "number", mass: 1000, fine: true };
  expect(toData([weight, grain], { g: "70", dry_g: "500" }, "metric", { g: "lb" }).data).toEqual({
    g: 31_751, dry_g: 500,
  });
  expect(toData([grain], { dry_g: "8" }, "metric", { dry_g: "lb" }).data).toEqual({ dry_g: 227 });
  expect(toRaw(grain, 227, "lb")).toBe("8.007");
  expect(faultText({ code: "range", low: 1, high: 200_000 }, grain, "lb")).toBe(
    "Type a number from 0.04 oz to 7054.79 oz.",
  );
});
