import { expect, test } from "vitest";
import { is_told, shelf_of, to_ask } from "../../src/core/barn/shelf.ts";
import { doe, HER, TODAY, view } from "../support/vet.ts";

const row = (id: string, f: Record<string, string | boolean>) => ({ id, f, stamp: {}, by: {} });
const on_shelf = (...rows: ReturnType<typeof row>[]) =>
  view({ shelf: Object.fromEntries(rows.map((one) => [one.id, one])) });
const bred = (on: string) => ({ from: on, to: on, how: "hand", ev: "", on });
const LATE_DAY = 100;

test("only that card's rows, without what is gone; past its date is as good as missing, on its date it is not", () => {
  const held = on_shelf(
    row("a", { card: "milk_fever", product: "bottle", place: "milk room", expires_on: "2026-03-30" }),
    row("b", { card: "milk_fever", product: "tube", expires_on: TODAY }),
    row("c", { card: "milk_fever", product: "used up", gone: true }),
    row("d", { card: "toxemia", product: "drench" }),
  );
  expect(shelf_of(held, "milk_fever", TODAY).map(({ id, expired }) => [id, expired])).toEqual([
    ["a", true], ["b", false],
  ]);
  expect(shelf_of(held, "toxemia", TODAY)).toEqual([
    { id: "d", told: "", product: "drench", place: "", expires_on: "", expired: false },
  ]);
});

test("a row of blanks is not the vet's word", () => {
  expect(is_told(on_shelf(row("a", { card: "toxemia", told: "  ", product: "drench" })), "toxemia", TODAY)).toBe(false);
  expect(is_told(on_shelf(row("a", { card: "toxemia", told: "Ring me first." })), "toxemia", TODAY)).toBe(true);
});

test("asked from late pregnancy of the first doe until both are written, before the day the first may kid less four weeks", () => {
  const does = (first: string) => ({
    [HER]: doe(HER, { bred: bred(first) }), b: doe("b", { bred: bred("2025-11-25") }),
  });
  expect(to_ask(view({ does: does("2025-12-22") }), TODAY, LATE_DAY, { b: "2026-04-18" })).toEqual({
    cards: ["milk_fever", "toxemia"], before: "2026-03-21",
  });
  expect(to_ask(view({ does: { [HER]: doe(HER, { bred: bred("2025-12-22") }) } }), TODAY, LATE_DAY, {})).toBeNull();
  expect(to_ask(view({ does: { [HER]: doe(HER, { bred: bred("2025-12-21") }) } }), TODAY, LATE_DAY, {})).toMatchObject({
    before: "2026-04-10",
  });
  const told = on_shelf(row("a", { card: "milk_fever", told: "Ring me." }));
  expect(to_ask({ ...told, does: does("2025-11-20") }, TODAY, LATE_DAY, {})).toMatchObject({ cards: ["toxemia"] });
  const both = on_shelf(
    row("a", { card: "milk_fever", told: "Ring me." }), row("b", { card: "toxemia", told: "Ring me." }),
  );
  expect(to_ask({ ...both, does: does("2025-11-20") }, TODAY, LATE_DAY, {})).toBeNull();
});

test("does that have left, or kidded, ask for nothing", () => {
  const left = doe(HER, { bred: bred("2025-11-20"), left_on: "2026-03-01" });
  expect(to_ask(view({ does: { [HER]: left, b: doe("b") } }), TODAY, LATE_DAY, {})).toBeNull();
});
