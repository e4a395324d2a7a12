import { expect, test } from "vitest";
import { kidding_span, kit_of, kit_word, to_fetch } from "../../src/core/barn/kit.ts";
import { KIT_PAR } from "../../src/core/tables/numbers.ts";
import { TODAY, view } from "../support/vet.ts";
import { addDays } from "../../src/core/base/days.ts";
import english from "../../src/texts/en.json";

const thing = (id: string, f: Record<string, string | number | boolean>) => ({ id, f, stamp: {}, by: {} });
const barn = (...rows: ReturnType<typeof thing>[]) =>
  view({ kit: Object.fromEntries(rows.map((row) => [row.id, row])) });
const due = (early: number, late: number) => ({ early: addDays(TODAY, early), late: addDays(TODAY, late) });
const full = thing("a", { name: "Towels", par: 2, count: 2, order: 1 });

test("in the order of the list, without what was taken off it; what is odd or unsaid is nothing", () => {
  const held = barn(
    thing("b", { name: "Lamp", par: 1, count: 3, order: 2 }), thing("c", { name: "Old", gone: true }),
    thing("a", { name: "Towels", par: 12, order: 1 }), thing("d", { name: "Tube", par: "two", order: 2 }),
  );
  expect(kit_of(held).map(({ id, par, count, fetch }) => [id, par, count, fetch])).toEqual([
    ["a", 12, 0, 12], ["b", 1, 3, 0], ["d", 0, 0, 0],
  ]);
});

test("what goes out of date before the last doe is due is said, on that day it still does; none of it cannot go off", () => {
  const dated = (id: string, days: number, count = 1) =>
    thing(id, { name: id, par: 0, count, expires_on: addDays(TODAY, days) });
  const things = kit_of(barn(dated("a", 29), dated("b", 30), dated("c", -1), dated("d", 29, 0)));
  const stale = (span: Parameters<typeof to_fetch>[2]) => to_fetch(things, TODAY, span).stale.map(({ id }) => id);
  expect(stale(kidding_span([due(5, 30)]))).toEqual(["a", "c"]);
  expect(stale(null)).toEqual(["c"]);
  expect(stale(kidding_span([due(-40, -20)]))).toEqual(["c"]);
});

test("the span goes from the first doe to the last", () => {
  expect(kidding_span([due(20, 40), due(5, 12), due(30, 35)])).toEqual(due(5, 40));
  expect(kidding_span([])).toBeNull();
});

test.each([[15, null], [14, -1], [0, -1], [-3, -1]])(
  "with nothing on the list, the first doe in %i days: said from two weeks before", (days, n) => {
    expect(kit_word(barn(), TODAY, kidding_span([due(days, days + 10)]))?.n ?? null).toBe(n);
  },
);

test("a thing that is short and out of date is one thing; where all is there nothing is said", () => {
  const old = thing("b", { name: "Colostrum", par: 6, count: 2, expires_on: addDays(TODAY, 1) });
  const near = kidding_span([due(10, 20)]);
  expect(kit_word(barn(full, old), TODAY, near)).toEqual({ before: addDays(TODAY, 10), n: 1 });
  expect(kit_word(barn(full), TODAY, near)).toBeNull();
  expect(kit_word(barn(full, old), TODAY, null)).toBeNull();
});

test("each thing that is offered has its words", () => {
  const words: Record<string, string> = english;
  expect(Object.keys(KIT_PAR).filter((code) => !words[`kit.thing.${code}`])).toEqual([]);
});

test("two phones apart that each used one leave two fewer; a count made later starts anew", () => {
  const towels = { ...thing("a", { name: "Towels", par: 5, count: 5 }), stamp: { count: "000000000005-0000-ada" } };
  const use = (hlc: string, n = 1) => ({ ev: hlc, subject: "a", on: TODAY, happened: 0, author: "ada", hlc, n });
  const counts = (...kit_uses: ReturnType<typeof use>[]) => kit_of(view({ kit: { a: towels }, kit_uses }))[0]!.count;
  expect(counts(use("000000000006-0000-ada"), use("000000000006-0000-mirrin"))).toBe(3);
  expect(counts(use("000000000004-0000-mirrin"))).toBe(5);
  expect(counts(use("000000000006-0000-ada", 9))).toBe(0);
});

test("what nobody counted is not short of all of it, and is said while it is open", () => {
  const held = barn(thing("a", { name: "Towels", par: 12, order: 1 }), thing("b", { name: "Lamp", par: 1, count: 0 }));
  expect(kit_of(held).map(({ id, uncounted }) => [id, uncounted])).toEqual([["b", false], ["a", true]]);
  expect(to_fetch(kit_of(held), TODAY, null).short.map(({ id }) => id)).toEqual(["b"]);
  expect(kit_word(held, TODAY, kidding_span([due(5, 9)]))?.n).toBe(2);
});
