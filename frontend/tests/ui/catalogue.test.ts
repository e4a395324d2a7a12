import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { RANKS } from "../../src/core/outlook/prompts.ts";
import { SIGNS, SLOTS, VERSIONS } from "../../src/core/kinds.ts";
import { BREEDS } from "../../src/core/record_fields.ts";
import { GROUPS } from "../../src/ui/farm/rules_table.ts";
import catalogue from "../../src/texts/en.json";

const texts = catalogue as Record<string, string>;
const SOURCE = join(import.meta.dirname, "../../src");
const ASKED = /\bt\(\s*"([^"]+)"/g;

function sources(dir: string): string[] {
  return readdirSync(dir, { withFileTypes: true }).flatMap((entry) => {
    const path = join(dir, entry.name);
    if (entry.isDirectory()) return sources(path);
    return /\.(svelte|ts)$/.test(entry.name) ? [readFileSync(path, "utf8")] : [];
  });
}

const code = [...sources(join(SOURCE, "ui")), ...sources(join(SOURCE, "texts"))].join("\n");

test("every text a screen asks for by name is in the catalogue", () => {
  const asked = [...code.matchAll(ASKED)].map(([, key]) => key!);
  expect(asked.length).toBeGreaterThan(100);
  expect(asked.filter((key) => !Object.hasOwn(texts, key))).toEqual([]);
});

test("every text is used: its name, or the first word of it, stands in the code", () => {
  const unused = Object.keys(texts).filter((key) => !key.split(".").map((_, i, all) => all.slice(0, i + 1).join(".")).some((part) => code.includes(part)));
  expect(unused).toEqual([]);
});

test.each(Object.keys(RANKS))("prompt %s has a sentence, or one for each way it is said", (prompt) => {
  expect(Object.keys(texts).filter((key) => key === `p.${prompt}` || key.startsWith(`p.${prompt}.`))).not.toEqual([]);
  expect(texts[`p.${prompt}`]).toBeTruthy();
});

test.each(Object.keys(VERSIONS).filter((kind) => kind !== "intake"))("a record of kind %s can be said in one line", (kind) => {
  expect(texts[`r.${kind}`]).toBeTruthy();
});

test("closed lists have words", () => {
  const keys = [...SIGNS.map((one) => `sign.${one}`), ...SLOTS.map((one) => `slot.${one}`), ...BREEDS.map((one) => `o.breed.${one}`)];
  const rules = GROUPS.flatMap(([, list]) => list.flatMap(([name]) => [`f.${name}`, `rule.${name}`]));
  expect([...keys, ...rules].filter((key) => !texts[key])).toEqual([]);
});

test("plain barn English: no exclamation, no please", () => {
  expect(Object.values(texts).filter((text) => /!|\bplease\b/i.test(text))).toEqual([]);
});
