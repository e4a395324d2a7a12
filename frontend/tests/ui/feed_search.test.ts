import { expect, test } from "vitest";
import { empty } from "../../src/core/state/empty.ts";
import { byKind, matching, used } from "../../src/ui/forms/feed_search.ts";

const of = (value: string, label: string, group: string) => ({ value, label, group });
const FEEDS = [
  of("own_hay", "Meadow, July", "Own"), of("alfalfa_hay", "Heno de alfalfa, botón", "Leguminosa"),
  of("barley", "Cebada en grano, entera", "Grano"), of("brewers", "Bagazo de cebada, seco", "Subproducto"),
  of("corn", "Maíz quebrado", "Grano"),
];
const found = (text: string) => matching(FEEDS, text).map(({ value }) => value);

test("a feed is found whatever the case and the accents", () => {
  expect(found("MAIZ")).toEqual(["corn"]);
  expect(found("boton")).toEqual(["alfalfa_hay"]);
  expect(found("Botón")).toEqual(["alfalfa_hay"]);
});

test("a name that begins with what is typed goes first, and every word typed is in it", () => {
  expect(found("cebada")).toEqual(["barley", "brewers"]);
  expect(found("cebada seco")).toEqual(["brewers"]);
  expect(found("zacate")).toEqual([]);
});

test("what was fed last goes first, then what is in a bowl, then what is the farm's own", () => {
  const ration = { feed: "barley" } as never;
  const feedings = [{ lines: [["", "corn", 200]] }, { lines: [["", "alfalfa_hay", 900]] }] as never;
  const view = { ...empty(), rations: { one: ration }, feedings, lots: { own_hay: {} as never } };
  expect(used(FEEDS, view).map(({ value }) => value)).toEqual(["alfalfa_hay", "corn", "barley", "own_hay"]);
});

test("the rest is by kind", () => {
  const counted = byKind(FEEDS.slice(2)).map(([kind, items]) => [kind, items.length]);
  expect(counted).toEqual([["Grano", 2], ["Subproducto", 1]]);
});
