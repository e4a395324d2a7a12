import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { GROUPS } from "../../src/ui/farm/rules_table.ts";

const table = readFileSync(join(import.meta.dirname, "../../../herd/outlook/rules.py"), "utf8");
const server = new Map(
  [...table.matchAll(/"(\w+)": Rule\((-?\d+), "[^"]*", (-?\d+), (-?\d+)/g)].map(([, name, ...numbers]) => [name!, numbers.map(Number)]),
);

test("the server's table was read", () => {
  expect(server.size).toBeGreaterThan(40);
});

test.each(GROUPS.flatMap(([, rules]) => rules))("herd rule %s shows the server's default and limits", (name, standard, low, high) => {
  expect(server.get(name)).toEqual([standard, low, high]);
});
