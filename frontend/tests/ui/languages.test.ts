import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, expect, test } from "vitest";
import type { BookFeed } from "../../src/core/outlook/ground/herd_figures.ts";
import type { View } from "../../src/core/state/view.ts";
import english from "../../src/texts/en.json";
import { CODES, LANGUAGES } from "../../src/texts/languages.ts";
import { amount, calendar, score } from "../../src/ui/words/format.ts";
import { feedInfo } from "../../src/ui/model/herd.ts";
import { toKept, toRaw } from "../../src/ui/forms/fields.ts";
import { speak, t } from "../../src/ui/words/text.ts";

const HOLE = /\{(\w+)/g;
const holes = (text: string) => [...new Set([...text.matchAll(HOLE)].map(([, name]) => name!))].sort();
const catalogue = (code: string): Record<string, string> =>
  JSON.parse(readFileSync(join(import.meta.dirname, `../../src/texts/${code}.json`), "utf8"));

afterEach(() => speak(english, "en"));

test.each(CODES)("%s says everything English says, with the same arguments", (code) => {
  const said = catalogue(code);
  const shape = (texts: Record<string, string>) =>
    Object.entries(texts)
      .map(([key, text]) => [key, holes(text)])
      .sort();
  expect(shape(said)).toEqual(shape(english));
});

test.each(CODES)("the file of %s is the one the app fetches", (code) => {
  expect(LANGUAGES[code].url).toContain(`/${code}.json`);
});

test("another catalogue speaks at once, with its own decimal mark and order of a date", () => {
  speak({ date: "{date} de {month}", "month.12": "dic", kids: "{n} crías, no 2.5" }, "es");
  expect(amount(1460, "metric")).toBe("1,46\u00a0kg");
  expect(score(325)).toBe("3,25");
  expect(t("kids", { n: 1.8 })).toBe("1,8 crías, no 2,5");
  expect(calendar("2026-12-05", "2026-11-25")).toBe("5 de dic");
  speak(english, "es-MX");
  expect(amount(1460, "metric")).toBe("1.46\u00a0kg");
  expect(t("day.0")).toBe("today");
});

test("a feed of the book is called by its English name where nobody has another", () => {
  speak({ "Oat hay": "Heno de avena" }, "es");
  const oats = { class: "grass", name: "Oat hay" } as BookFeed;
  const view = { lots: {}, feeds: {}, calibrations: {}, bags: {} } as unknown as View;
  expect(feedInfo(view, { oat_hay: oats }, "oat_hay").name).toBe("Heno de avena");
  speak(english, "en");
  expect(feedInfo(view, { oat_hay: oats }, "oat_hay").name).toBe("Oat hay");
});

test("a number shown in a box with a decimal comma is read back as it was", () => {
  speak(english, "es");
  const weight = { key: "g", kind: "number", mass: 1000 } as const;
  expect(toRaw(weight, 31_500, "metric")).toBe("31,5");
  expect(toKept(weight, "31,5", "metric")).toBe(31_500);
});
