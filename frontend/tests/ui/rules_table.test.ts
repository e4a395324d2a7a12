import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import catalogue from "../../src/texts/en.json";
import { RULE_LIMITS } from "../../src/core/events/rule_limits.ts";
import { CHOICES, GROUPS } from "../../src/ui/farm/rules_table.ts";

const texts = catalogue as Record<string, string>;

const table = readFileSync(join(import.meta.dirname, "../../../herd/outlook/rules.py"), "utf8");
const server = new Map(
  [...table.matchAll(/"(\w+)": Rule\((-?\d+), "[^"]*", (-?\d+), (-?\d+)/g)].map(([, name, ...numbers]) => [
    name!, numbers.map(Number),
  ]),
);

test("the server's table was read", () => {
  expect(server.size).toBeGreaterThan(40);
});

test.each(GROUPS.flatMap(([, rules]) => rules))(
  "herd rule %s shows the server's default and limits",
  (name, standard) => {
    expect(server.get(name)).toEqual([standard, ...RULE_LIMITS[name]!]);
  },
);

const choices = readFileSync(join(import.meta.dirname, "../../../herd/outlook/rule_choices.py"), "utf8");
const named = [...choices.matchAll(/"(\w+)": \(([^:]*)\),\n/g)].map(([, name, list]) => [
  name!, [...list!.matchAll(/Choice\((\d+)/g)].map(([, value]) => Number(value)),
] as const);

test("the screen names the published choices the server knows, ours first", () => {
  expect(named.length).toBe(5);
  expect(CHOICES).toEqual(Object.fromEntries(named));
  for (const [name, [ours]] of named) expect(server.get(name)?.[0]).toBe(ours);
});

test("a herd rule in words", () => {
  const keys = Object.entries(CHOICES).flatMap(([name, values]) => values.map((value) => `choice.${name}.${value}`));
  expect(keys.filter((key) => !texts[key])).toEqual([]);
});
