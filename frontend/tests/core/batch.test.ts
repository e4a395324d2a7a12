import { expect, test } from "vitest";
import type { OutboxRow } from "../../src/core/phone/store/rows.ts";
import { newsIn, settleAnswers } from "../../src/core/phone/store/settle.ts";
import { nextBatch, pushBody } from "../../src/core/phone/sync/batch.ts";
import type { Answer, Changes } from "../../src/core/phone/sync/wire.ts";

function row(id: string, size = 10, device = "d1"): OutboxRow {
  const text = JSON.stringify({ id, entered: 7, pad: "x".repeat(size) });
  return { id, text, author: "a", device, hlc: id, st: "waiting", code: "", why: "" };
}

test("two hundred entries or 64 kB, whichever comes first", () => {
  const small = Array.from({ length: 300 }, (_, i) => row(`e${i}`));
  expect(nextBatch(small, 200)).toHaveLength(200);
  const large = Array.from({ length: 20 }, (_, i) => row(`e${i}`, 9_960));
  expect(nextBatch(large, 200)).toHaveLength(6);
});

test("one entry goes however big, and bytes are counted, not letters", () => {
  expect(nextBatch([row("a", 70_000), row("b")], 200).map(({ id }) => id)).toEqual(["a"]);
  const goats = { ...row("a"), text: "\u{1f410}".repeat(15_000) };
  expect(nextBatch([goats, goats], 200)).toHaveLength(1);
});

test("entries of an earlier device id of this phone go in a batch of their own", () => {
  expect(nextBatch([row("a"), row("b"), row("c", 1, "d2")], 200).map(({ id }) => id)).toEqual(["a", "b"]);
});

test("the body holds the stored texts untouched", () => {
  const odd = { ...row("a"), text: '{"id": "a" , "x":1.50}' };
  expect(pushBody({ epoch: 3 }, [odd, row("b", 0)])).toBe(`{"epoch":3,"events":[${odd.text},${row("b", 0).text}]}`);
});

test("each entry gets its own answer; one without an answer stays as it was", () => {
  const answers: Answer[] = [
    { id: "a", st: "ok", seq: 5 }, { id: "b", st: "dup", seq: 2, eff: { on: "2026-01-01" } },
    { id: "c", st: "rejected", code: "bad_field", why: "No." }, { id: "d", st: "parked", seq: 6 },
    { id: "stranger", st: "ok", seq: 9 }, { id: "e", st: "sideways" as never },
  ];
  const settled = settleAnswers(["a", "b", "c", "d", "e", "f"].map((id) => row(id)), answers, 9);
  expect(settled.sent).toEqual(["a", "b", "d"]);
  expect(settled.refused).toMatchObject([{ id: "c", st: "rejected", code: "bad_field", why: "No." }]);
  expect(settled.events.map(({ id, st, seq, eff, aged_from }) => [id, st, seq, eff, aged_from])).toEqual([
    ["a", "ok", 5, null, 9], ["b", "ok", 2, { on: "2026-01-01" }, 9], ["c", "rejected", 0, null, 9],
    ["d", "parked", 6, null, 9],
  ]);
});

test.each([
  [[4, 5], 5, 2], [[2, 3, 4], 4, 1], [[2, 3], 3, 0], [[], 3, 0], [[], 2, 0], [[5], 5, -1], [[4, 6], 6, -1],
  [[], 4, -1], [[4], 5, -1],
])("entries %j up to %d after 3: %d", (seqs, seq, news) => {
  const changes = { events: seqs.map((seq) => ({ seq })), seq } as unknown as Changes;
  expect(newsIn(changes, { seq: 3, outlook_rev: 0 })).toBe(news);
});
