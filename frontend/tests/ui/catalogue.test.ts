import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { RANKS } from "../../src/core/tables/prompts.ts";
import { SLOTS, VERSIONS } from "../../src/core/tables/entries.ts";
import { BREEDS, SIGNS } from "../../src/core/tables/forms.ts";
import { GROUPS } from "../../src/core/tables/rules_offered.ts";
import catalogue from "../../src/texts/en.json";

const texts = catalogue as Record<string, string>;
const SOURCE = join(import.meta.dirname, "../../src");
/** Families whose first word is itself a variable: a part of the body, a place, the argument of a prompt. */
const BY_VARIABLE = [
  "how.", "stage.", "witness.", "what.", "loin.", "brisket.", "lots.", "feeds.", "dried_off.", "left_herd.", "p.",
  "o.",
  // Said by the server, in what other calendars read: herd/services/calendar_words.json.
  "cal.feed.",
];
const ASKED = /\bt\(\s*"([^"]+)"\s*[,)]/g;

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

test("every text is used: by name, or as one of a family the code builds names for", () => {
  const built = [...code.matchAll(/[`"]([\w.]+\.)(?:\$\{|"|`)/g)].map(([, family]) => family!);
  const families = [...BY_VARIABLE, ...built];
  const used = (key: string) => code.includes(`"${key}"`) || families.some((family) => key.startsWith(family));
  expect(Object.keys(texts).filter((key) => !used(key))).toEqual([]);
});

test.each(Object.keys(RANKS))("prompt %s has a sentence, or one for each way it is said", (prompt) => {
  expect(Object.keys(texts).filter((key) => key === `p.${prompt}` || key.startsWith(`p.${prompt}.`))).not.toEqual([]);
  expect(texts[`p.${prompt}`]).toBeTruthy();
});

test.each(Object.keys(VERSIONS).filter((kind) => kind !== "intake"))(
  "a record of kind %s can be said in one line",
  (kind) => {
    expect(texts[`r.${kind}`]).toBeTruthy();
  },
);

test("closed lists have words", () => {
  const keys = [
    ...SIGNS.map((one) => `sign.${one}`), ...SLOTS.map((one) => `slot.${one}`),
    ...BREEDS.map((one) => `o.breed.${one}`),
  ];
  const rules = GROUPS.flatMap(([, list]) => list.flatMap((name) => [`f.${name}`, `rule.${name}`]));
  expect([...keys, ...rules].filter((key) => !texts[key])).toEqual([]);
});

test("plain barn English: no exclamation, no please", () => {
  expect(Object.values(texts).filter((text) => /!|\bplease\b/i.test(text))).toEqual([]);
});
