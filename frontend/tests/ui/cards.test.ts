import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { CARDS } from "../../src/core/tables/forms.ts";
import english from "../../src/texts/cards.en.json";
import { CODES, LANGUAGES } from "../../src/texts/languages.ts";
import { DRAWINGS } from "../../src/ui/draw/emergency.ts";
import { PARTS, type CardLine, type Cards } from "../../src/ui/emergency/shapes.ts";

const of = (code: string): Cards =>
  JSON.parse(readFileSync(join(import.meta.dirname, `../../src/texts/cards.${code}.json`), "utf8"));
const linesOf = ({ cards }: Cards): [card: string, part: string, line: CardLine][] =>
  Object.entries(cards).flatMap(([code, card]) => [
    [code, "about", card.about] as [string, string, CardLine],
    ...PARTS.flatMap((part) => card[part].map((line): [string, string, CardLine] => [code, part, line])),
  ]);
const lines = linesOf(english);
const texts = lines.flatMap(([code, part, { t, differ }]) =>
  [t, differ ?? ""].filter(Boolean).map((text) => `${code} ${part}: ${text}`),
);

test("every card is there, with a drawing", () => {
  expect(Object.keys(english.cards).sort()).toEqual([...CARDS].sort());
  expect(CARDS.filter((code) => !DRAWINGS[code]?.length)).toEqual([]);
});

test("every line names what it stands on, and every source is used", () => {
  const known = Object.keys(english.sources);
  expect(lines.filter(([, , { source }]) => !source.length || source.some((key) => !known.includes(key)))).toEqual([]);
  const used = new Set(lines.flatMap(([, , { source }]) => source));
  expect(known.filter((key) => !used.has(key))).toEqual([]);
  expect(Object.values(english.sources).filter(({ title }) => !title)).toEqual([]);
});

test("short enough to be read at arm's length", () => {
  expect(texts.filter((text) => text.slice(text.indexOf(": ") + 2).length > 110)).toEqual([]);
  expect(lines.filter(([, part]) => part === "first").length).toBeLessThanOrEqual(7 * CARDS.length);
});

test("calm: no exclamation, no please, no dose, nothing with a label", () => {
  expect(texts.filter((text) => /!|\bplease\b/i.test(text))).toEqual([]);
  // an amount to give: a number with a measure of volume, weight or units; temperatures, hours and mmol/L are not
  expect(
    texts.filter((text) =>
      /\d\s?(ml|cc|mg|g|kg|oz|lb|iu|units?|cups?|tablespoons?|teaspoons?|tablets?|pints?|quarts?|lit(re|er)s?)\b/i.test(
        text,
      ),
    ),
  ).toEqual([]);
  const named = [
    /penicillin|tetracycline|oxytocin|antibiotic|cortison|dexamethasone|flunixin|™|®/i,
    /glycol|gluconate|borogluconate|thiamine|bicarbonate|baking soda/i,
  ];
  expect(texts.filter((text) => named.some((one) => one.test(text)))).toEqual([]);
});

test.each(CARDS)("%s says when to call", (code) => {
  expect(of("en").cards[code]!.call.length).toBeGreaterThanOrEqual(2);
});

test.each(["milk_fever", "toxemia", "bloat", "listeria"])(
  "%s: nothing by mouth to a doe that is down or cannot swallow",
  (code) => {
    expect(
      texts.filter(
        (text) => text.startsWith(`${code} never`) && text.includes("Give nothing by mouth to a doe that is down"),
      ),
    ).toHaveLength(1);
  },
);

test.each(["hard_kidding", "placenta", "abortion", "listeria", "cold_kid"])("%s keeps pregnant people away", (code) => {
  expect(texts.filter((text) => text.startsWith(code) && /pregnant people/i.test(text))).not.toEqual([]);
});

test("no water is taken away, no feed cut, no doe that is down fed", () => {
  expect(
    texts.filter(
      (text) => / (first|call): /.test(text) && /withhold|restrict|no water|cut (her|the) (feed|hay)/i.test(text),
    ),
  ).toEqual([]);
  expect(texts.filter((text) => text.startsWith("bloat") && text.includes("Never take her water"))).toHaveLength(1);
  expect(
    texts.filter(
      (text) => / first: /.test(text) && /\boffer/i.test(text) && !/While she stands and swallows|After it/.test(text),
    ),
  ).toEqual([]);
});

test.each(CODES)("%s: the same cards, parts, lines, sources and temperatures as English", (code) => {
  const shape = (cards: Cards) =>
    linesOf(cards).map(([card, part, { t, source, differ }]) => [
      card, part, source, Boolean(differ), t.match(/\{c\d+\}/g),
    ]);
  const said = of(code);
  expect(shape(said)).toEqual(shape(english as Cards));
  expect(Object.keys(said.sources)).toEqual(Object.keys(english.sources));
  expect(LANGUAGES[code].cards).toContain(`/cards.${code}.json`);
});
