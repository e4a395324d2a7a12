import { expect, test } from "vitest";
import catalogue from "../../src/texts/en.json";
import { CHOICES, RULES, type RuleName } from "../../src/core/tables/rules.ts";

const texts = catalogue as Record<string, string>;

test.each(Object.entries(CHOICES))("published choices of %s: ours first, each in words", (name, choices) => {
  const values = Object.values(choices);
  expect(values[0]).toBe(RULES[name as RuleName][0]);
  expect(values.filter((value) => !texts[`choice.${name}.${value}`])).toEqual([]);
});
