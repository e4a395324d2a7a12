import { afterEach, beforeEach, describe, expect, test } from "vitest";
import english from "../../src/texts/en.json";
import spanish from "../../src/texts/es.json";
import { callFlakes, flakeNames, speak, t, type Texts } from "../../src/ui/words/text.ts";
import { away, flakes } from "../../src/ui/words/format.ts";

const WORDS = {
  en: new RegExp(
    "^(day|hour|week|month|year|doe|kid|scoop|flake|bale|fill|step|meal|entry|entries|thing|pen|stack|lot|value|point" +
      "|number|source|feed|time|treatment)s?\\b",
  ),
  es: new RegExp(
    "^(día|hora|semana|mes|año|cabra|cría|medida|cuchar|\\[flake|paca|paso|comida|anotaci|cosa|corral|pila|lote|valor" +
      "|punto|número|fuente|alimento|vez|veces|tratamiento)",
  ),
};
const LANGUAGES: [string, Texts, RegExp][] = [
  ["en", english, WORDS.en],
  ["es", spanish, WORDS.es],
];
/** A number of so many out of a known whole, a part of a date, or a number that is never one. */
const NEVER_ONE = /\{days\} (of|de) (the next |los próximos )?(7|\{of\})|\{of\} (days|días)/;
const FORMS = /\{(\w+)\?([^}]*)\}/g;
const COUNTS = [0, 1, 2, 0.5];

afterEach(() => speak(english, "en"));

describe.each(LANGUAGES)("%s", (code, texts, nouns) => {
  beforeEach(() => speak(texts, code));

  test("a noun after a number stands in its forms", () => {
    const bare = Object.entries(texts).filter(([, text]) =>
      [...text.matchAll(/\{\w+\}[ \u00a0](\S.*)/g)].some(([all, after]) => nouns.test(after!) && !NEVER_ONE.test(all)),
    );
    expect(bare).toEqual([]);
  });

  const counted = Object.entries(texts).filter(([, text]) => text.search(FORMS) >= 0);
  test("there are such texts", () => expect(counted.length).toBeGreaterThan(40));

  test("one and a half take the same form, none and two the same, one and two another", () => {
    const wrong = counted.filter(([key, text]) => {
      const names = [...text.matchAll(FORMS)].map(([, name]) => name!);
      return names.some((name) => {
        // the number itself is left out: only the words may differ
        const twos = Object.fromEntries(names.map((each) => [each, 2]));
        const [none, one, two, half] = COUNTS.map((n) =>
          t(key, { ...twos, [name]: n }).replaceAll(/\d+([.,]\d+)?/g, ""));
        return half !== one || none !== two || one === two;
      });
    });
    expect(wrong).toEqual([]);
  });
});

test("amounts in the hand and times gone by", () => {
  speak(english, "en");
  expect([275, 850, 1100, 1650, 0].map((g) => flakes(g, 1100))).toEqual(
    ["¼ flake", "¾ flake", "1 flake", "1½ flakes", "0 flakes"],
  );
  expect(t("measure.scoops", { count: "2", n: 2, name: "Blue scoop" })).toBe("2 × Blue scoop");
  expect(t("measure.scoops", { count: "½", n: 0.5, name: "Blue scoop" })).toBe("½ Blue scoop");
  expect([25, 220, 96 * 60 + 22, 2880].map(away)).toEqual([
    "25\u00a0min", "3\u00a0h\u00a040\u00a0min", "4 days", "2 days",
  ]);
});

test("a language with more forms takes each by the platform's categories", () => {
  speak({ kids: "{n?козлёнок:козлёнка:козлят:козлёнка}" }, "ru");
  expect([1, 3, 5, 21].map((n) => t("kids", { n }))).toEqual(["козлёнок", "козлёнка", "козлят", "козлёнок"]);
});

test("a farm calls a flake what it calls it, in its gender and in several", () => {
  speak(spanish, "es");
  expect(flakeNames()).toContain("pan");
  expect(t("measure.flake")).toBe("Una rebanada");
  callFlakes("pan");
  expect([t("measure.flake"), flakes(2200, 1100), flakes(550, 1100)]).toEqual(["Un pan", "2 panes", "½ pan"]);
  callFlakes("no such word");
  expect(t("measure.flake")).toBe("Una rebanada");
  speak(english, "en");
  expect(flakes(2200, 1100)).toBe("2 flakes");
});
