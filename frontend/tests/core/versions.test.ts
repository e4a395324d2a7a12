import { expect, test } from "vitest";
import { isOlder } from "../../src/core/base/versions.ts";
import { backoff_ms } from "../../src/core/phone/sync/backoff.ts";
import { Diagnostics } from "../../src/core/phone/diagnostics.ts";
import { statusOf, type Counts } from "../../src/core/phone/status.ts";

test.each([
  ["1.9.2", "1.10.0", true], ["1.10.0", "1.9.2", false], ["1.0.0", "1.0.0", false], ["1.0", "1.0.1", true],
  ["1.0.0", "", false], ["1.0.0", "rubbish", false],
])("%s older than %s: %s", (have, need, want) => {
  expect(isOlder(have, need)).toBe(want);
});

test("waits double from one second to five minutes, each between half and whole", () => {
  expect([1, 2, 3, 9, 10, 99].map((n) => backoff_ms(n, 1))).toEqual([1_000, 2_000, 4_000, 256_000, 300_000, 300_000]);
  expect(backoff_ms(3, 0)).toBe(2_000);
  expect(backoff_ms(0, 1)).toBe(1_000);
});

test("the diagnostics keep the last two hundred and cuts long words", () => {
  const kept = new Diagnostics();
  for (let i = 0; i < 250; i++) kept.add(i, "x", "y".repeat(500));
  expect(kept.entries).toHaveLength(200);
  expect(kept.entries[0]!.at).toBe(50);
  expect(kept.entries[0]!.detail).toHaveLength(160);
  kept.add(Number.MAX_SAFE_INTEGER, "odd_clock");
  expect(kept.text()).toContain(`${Number.MAX_SAFE_INTEGER} odd_clock`);
});

const quiet: Counts = {
  unsaved: 0, storage_broken: false, astray: false, locked: null, sending: null, rejected: 0, waiting: 0, at: 5,
};

test.each([
  [{}, "sent", 0], [{ waiting: 6 }, "waiting", 6], [{ waiting: 6, rejected: 2 }, "needs_you", 2],
  [{ waiting: 6, rejected: 2, sending: { n: 3, of: 6 } }, "sending", 3],
  [{ waiting: 6, locked: "sign_in" as const }, "locked", 6],
  [{ unsaved: 1, waiting: 6, locked: "sign_in" as const }, "not_saved", 1],
  [{ storage_broken: true }, "not_saved", 0],
])("%j is said as %s", (over, kind, n) => {
  expect(statusOf({ ...quiet, ...over })).toMatchObject({ kind, n, at: 5 });
});
