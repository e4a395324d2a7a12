import { expect, test } from "vitest";
import { growth_of, kid_id, kids_here, litter_now, next_n, written_from } from "../../src/core/barn/kids.ts";
import { idOf, isId } from "../../src/core/base/ids.ts";
import { new_doe } from "../../src/core/state/doe_state.ts";
import { extended } from "../../src/core/state/extend.ts";
import { empty } from "../../src/core/state/empty.ts";
import { fold } from "../../src/core/state/fold.ts";
import type { Data, Envelope } from "../../src/core/events/events.ts";
import type { Doe, RecordRow } from "../../src/core/state/view.ts";

const NIGHT = "2026-03-01";
const AT = Date.UTC(2026, 2, 2, 0, 30);
const HOUR = 3_600_000;
const service = (ev: string, from: string) => ({ ev, from, to: from, how: "hand", buck: "Thorn" });
const fern = (more: Partial<Doe> = {}): Doe => ({ ...new_doe("fern"), ...more });
const kid = (id: string, f: RecordRow["f"]): RecordRow => ({ id, f: { dam: "fern", ...f }, stamp: {}, by: {} });

test("two phones that have not heard of each other give a kid one id, and no other kid that id", () => {
  const doe = fern({ services: [service("s1", "2025-10-01")], kiddings: 1 });
  const [one, again] = [kid_id(doe, 1, NIGHT), kid_id(structuredClone(doe), 1, NIGHT)];
  expect(one).toBe(again);
  expect(isId(one)).toBe(true);
  expect(new Set([1, 2, 3, 4, 5, 6].map((n) => kid_id(doe, n, NIGHT))).size).toBe(6);
});

test("next year's kids are others, with a service on record and without", () => {
  const doe = fern({ services: [service("s1", "2025-10-01")], kiddings: 1 });
  const next = fern({ services: [service("s1", "2025-10-01"), service("s2", "2026-10-01")], kiddings: 2 });
  const unsaid = fern({ services: [service("s1", "2025-10-01")], kiddings: 2 });
  const ids = [kid_id(doe, 1, NIGHT), kid_id(next, 1, "2027-03-01"), kid_id(unsaid, 1, "2027-03-01")];
  expect(new Set(ids).size).toBe(3);
});

test("a kid that comes after the kidding was put down keeps to its litter", () => {
  const before = fern({ kiddings: 2 });
  const kidded = { on: NIGHT, born: 1, alive: 1, timed: true, ev: "k", at: AT };
  expect(kid_id(fern({ kiddings: 3, kidded }), 2, NIGHT)).toBe(kid_id(before, 2, NIGHT));
});

test("ids from words are spread out: twenty thousand of them, none twice", () => {
  const ids = new Set(Array.from({ length: 20_000 }, (_, k) => idOf("kid", `dam-${k % 97}`, `ev-${k}`, String(k % 6))));
  expect(ids.size).toBe(20_000);
  expect([...ids].every(isId)).toBe(true);
  expect(new Set([...ids].map((id) => id.slice(0, 8))).size).toBeGreaterThan(19_900);
});

test("the litter is the one of these days, and what is written down comes from its lines", () => {
  const view = empty();
  const born_min = Math.floor(AT / 60_000);
  view.kids["old"] = kid("old", { n: 1, born_on: "2025-03-01" });
  view.kids["b"] = kid("b", { n: 2, born_on: NIGHT, born_min: born_min + 20, came: "dead" });
  view.kids["a"] = kid("a", { n: 1, born_on: NIGHT, born_min });
  view.kids["other"] = kid("other", { dam: "wren", n: 1, born_on: NIGHT, born_min });
  const litter = litter_now(view, fern(), AT + HOUR);
  expect(litter.map(({ id }) => id)).toEqual(["a", "b"]);
  expect(next_n(litter)).toBe(3);
  expect(written_from(litter)).toEqual({ born: 2, alive: 1, last_ms: (born_min + 20) * 60_000 });
  expect(kids_here(view).map(({ id }) => id)).toEqual(["a", "other", "old"]);
});

test("no seventh kid has a number", () => {
  expect(next_n([6].map((n) => kid("k", { n, born_on: NIGHT })))).toBe(0);
});

test("growth is the last weighing of each day, with what it gained a day since", () => {
  const seen = { happened: 0, author: "ada" };
  const weights = [
    { ...seen, ev: "1", subject: "a", on: "2026-03-11", g: 5_000 },
    { ...seen, ev: "2", subject: "a", on: "2026-03-11", g: 5_300 },
    { ...seen, ev: "3", subject: "b", on: "2026-03-11", g: 9_000 },
  ];
  expect(growth_of(kid("a", { n: 1, born_on: NIGHT, birth_g: 3_300 }), weights)).toEqual([
    { on: NIGHT, g: 3_300, day_g: 0 }, { on: "2026-03-11", g: 5_300, day_g: 200 },
  ]);
});

const DOE = "018f0000-0000-7000-8000-000000000001";
const ID = idOf("kid", DOE, "0", "1");
const entry = (n: number, kind: string, subject: string, data: Data): Envelope => ({
  id: `018f0000-0000-7000-8000-0000000001${String(n).padStart(2, "0")}`, kind, v: 1, subject, on: NIGHT, slot: "late",
  happened: AT + n, entered: AT + n, hlc: `${String(n).padStart(12, "0")}-0000-0000000a`,
  author: DOE, device: DOE, data,
});

test("a tap on a kid's line is taken up without folding again, and gives what the fold gives", () => {
  const doe = { name: "Fern", sex: "doe", size: "mini" };
  const log = [
    entry(1, "doe", DOE, { f: doe, base: {} }),
    entry(2, "kid", ID, { f: { dam: DOE, n: 1, born_on: NIGHT }, base: {} }),
    entry(3, "kid", ID, { f: { sex: "doe" }, base: { sex: "" } }),
    // written by somebody who had not heard of the doeling: asked about
    entry(4, "kid", ID, { f: { sex: "buck", navel: true }, base: { sex: "" } }),
  ];
  let view = fold(log.slice(0, 1));
  for (const [k, event] of log.slice(1).entries()) {
    const next = extended(view, log[k]!, event, null as never);
    expect(next).toEqual(fold(log.slice(0, k + 2)));
    view = next!;
  }
  expect(view.questions).toHaveLength(1);
  const late = entry(2, "kid", ID, { f: { sex: "buck" }, base: {} });
  expect(extended(view, log[0]!, late, null as never)).toBeNull();
});
