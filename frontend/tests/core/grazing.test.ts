import { expect, test } from "vitest";
import type { Book } from "../../src/core/outlook/ground/herd_figures.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import { fold } from "../../src/core/state/fold.ts";
import { Context } from "../../src/core/outlook/ground/context.ts";
import { grazed, grazing_slot } from "../../src/core/outlook/feeding/grazing.ts";
import type { Outlook } from "../../src/core/outlook/ground/documents.ts";
import { cases } from "../support/vectors.ts";

interface Case {
  name: string;
  events: Envelope[];
  outlooks: Record<string, Outlook>;
  book: Book;
  day: string;
}

// Three equal does of 1500 g appetite in one pen.
const given = cases<Case>("evaluate").find(({ name }) => name === "three_share_a_feeder")!;
const grass = { ...Object.values(given.book.feeds)[0]!, dm_pm: 200, grazed: 1 };
const book: Book = {
  ...given.book, grazing: { light: [250, 500], half: [500, 350], full: [850, 200] },
  feeds: { ...given.book.feeds, meadow: grass },
};
const pen = "p";
const at = (over: Partial<Book> = {}, outlooks = given.outlooks) =>
  new Context(fold(given.events), outlooks, { ...book, ...over }, given.day);

test("half is half of the pen's appetite as fresh plant, and says how wide", () => {
  // 3 x 1500 g x 0.5 / 0.2 = 11 250 g, to a hundred grams; spread 35 % of it
  expect(grazed(at(), pen, given.day, "half", "meadow")).toEqual({ g: 11_300, low_g: 7_300, high_g: 15_300 });
  // 4500 x 0.25 / 0.2 = 5625; half of it either way
  expect(grazed(at(), pen, given.day, "light", "meadow")).toEqual({ g: 5_600, low_g: 2_800, high_g: 8_400 });
});

test("nothing is guessed without appetite, dry matter or shares", () => {
  expect(grazed(at({}, {}), pen, given.day, "full", "meadow")).toBeNull();
  expect(grazed(at({ grazing: undefined as never }), pen, given.day, "full", "meadow")).toBeNull();
  expect(grazed(at(), pen, given.day, "full", "nobody_knows")).toBeNull();
  expect(grazed(at(), "no pen", given.day, "full", "meadow")).toBeNull();
});

test("it is written where it does not pass for a planned meal", () => {
  expect(grazing_slot(at(), pen, given.day)).toBe("midday");
  const view = fold(given.events);
  view.rations = Object.fromEntries(
    ["midday", "late"].map((slot) => [
      slot, { subject: pen, slot, feed: "meadow", steps: [["2026-01-01", 10]], marks: [], hlc: "", ev: "" },
    ]),
  );
  expect(grazing_slot(new Context(view, {}, book, given.day), pen, given.day)).toBe("evening");
});
