import { expect, test } from "vitest";
import type { Data, Envelope } from "../../src/core/events/events.ts";
import { VERSIONS, type Kind } from "../../src/core/events/kinds.ts";
import { extended, latest_of } from "../../src/core/state/extend.ts";
import { fold } from "../../src/core/state/fold.ts";

const NOON_MS = 1_794_484_800_000;

function entry(n: number, kind: Kind, subject: string, data: Data): Envelope {
  const [id, hlc] = [`e${n}`, `00000000000${n}-0000-0000000a`];
  const when = { on: "2026-11-12", slot: "morning", happened: NOON_MS + n, entered: NOON_MS + n };
  return { id, kind, v: VERSIONS[kind], subject, ...when, hlc, author: "ada", device: "d", data };
}

test("a meal taken back, whose leftovers were put right to another day: they go to that day, quickly or slowly", () => {
  const left = { how: "left_some", left_pct: 30, feed: "", fed: "e2" };
  const earlier = { on: "2026-11-01", slot: "midday", happened: NOON_MS - 10 };
  const events = [
    entry(1, "doe", "fern", { f: { name: "Fern" }, base: {} }),
    entry(6, "pen", "yard", { f: { name: "Yard" }, base: {} }),
    entry(2, "fed", "yard", { lines: [{ to: "", feed: "hay", g: 900 }], adds: false }),
    entry(3, "intake", "fern", left),
    entry(4, "correct", "fern", { of: "e3", data: left, ...earlier }),
  ];
  const taken_back = entry(7, "void", "yard", { of: "e2" });
  const known = [...events, taken_back];
  const log = { counting: () => known, event: (id: string) => known.find((event) => event.id === id) };
  const whole = fold(known);
  expect(whole.intakes).toMatchObject([{ on: "2026-11-01", slot: "midday" }]);
  const quick = extended(fold(events), latest_of(events), taken_back, log);
  expect(quick ?? whole).toEqual(whole);
});
