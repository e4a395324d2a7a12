import { expect, test } from "vitest";
import {
  growth_of, kid_id, kid_of_record, kids_here, litter_now, next_n, night_of, one_or_two,
} from "../../src/core/barn/kids.ts";
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

test("of so many born, two phones give a kid that nobody tapped one id, and no other kid that id", () => {
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
  expect(next_n([], 2)).toBe(3);
  expect(night_of(litter, "2026-03-02")).toBe(NIGHT);
  expect(kids_here(view).map(({ id }) => id)).toEqual(["a", "other", "old"]);
});

/** Phones by the last part of their stamps. */
const tapped = (id: string, phone: string, n: number, minutes: number, more: RecordRow["f"] = {}): RecordRow => ({
  ...kid(id, { n, born_on: NIGHT, born_min: Math.floor(AT / 60_000) + minutes, ...more }),
  stamp: { dam: `00000000000${n}-0000-${phone}` },
});
const barn = (...kids: RecordRow[]) => {
  const view = empty();
  for (const each of kids) view.kids[each.id] = each;
  return view;
};
const shown = (view: ReturnType<typeof barn>) =>
  litter_now(view, fern(), AT + HOUR).map(({ id, shown }) => `${id}${shown}`).join(" ");

test("two phones that have not heard of each other tap two kids: both stand, by when they came", () => {
  const view = barn(tapped("b", "mirrin", 1, 20), tapped("a", "ada", 1, 0), tapped("c", "ada", 2, 45));
  expect(shown(view)).toBe("a1 b2 c3");
  expect(next_n(litter_now(view, fern(), AT + HOUR))).toBe(3);
  const [asked, other] = one_or_two(litter_now(view, fern(), AT + HOUR))!;
  expect([asked.id, other.id]).toEqual(["b", "a"]);
});

test("said to be two, nobody is asked again; said to be one, it is one, and nothing that was said of it is lost", () => {
  const ada = tapped("a", "ada", 1, 0, { sex: "doe", birth_g: 0 });
  const two = barn(ada, tapped("b", "mirrin", 1, 2, { same: "b" }));
  expect(shown(two)).toBe("a1 b2");
  expect(one_or_two(litter_now(two, fern(), AT + HOUR))).toBeNull();
  const again = tapped("b", "mirrin", 1, 2, { same: "a", birth_g: 3_100, sex: "buck" });
  const one = barn(ada, again, tapped("c", "ada", 2, 9));
  expect(shown(one)).toBe("a1 c2");
  const litter = litter_now(one, fern(), AT + HOUR);
  expect(litter[0]).toMatchObject({ others: ["b"], f: { sex: "doe", birth_g: 3_100 } });
  expect(litter[0]!.f["same"]).toBeUndefined();
  expect(kids_here(one).map(({ id }) => id)).toEqual(["a", "c"]);
  expect(kid_of_record(one, "b")).toMatchObject({ id: "a", shown: 1 });
  const weighed = { ev: "1", subject: "b", on: "2026-03-11", g: 5_000, happened: 0, author: "ada" };
  expect(growth_of(litter[0]!, [weighed]).map(({ g }) => g)).toEqual([3_100, 5_000]);
});

test("two who each named the other's record leave one kid", () => {
  const view = barn(tapped("a", "ada", 1, 0, { same: "b" }), tapped("b", "mirrin", 1, 2, { same: "a" }));
  expect(shown(view)).toBe("a1");
  expect(kids_here(view).map(({ id }) => id)).toEqual(["a"]);
});

test("kids of one phone are never asked about", () => {
  const view = barn(tapped("a", "ada", 1, 0), tapped("b", "ada", 2, 1));
  expect(one_or_two(litter_now(view, fern(), AT + HOUR))).toBeNull();
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
