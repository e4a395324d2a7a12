import { expect, test } from "vitest";
import { as_of } from "../../src/core/outlook/whole/in_time.ts";

/** A word with a clock is the vet's once its time is up, and not a minute before. */
const labour = { code: "labour_now" as const, args: { why: "pushing", vet_at_ms: 1_800_000 } };
const buck = { code: "off_feed_watch" as const, args: { urgency: "watch", vet_at_ms: 1_800_000 } };

test("before its time a word stays as it is", () => {
  expect(as_of(labour, 1_799_999)).toBe(labour);
});

test("at its time it is the vet's, now", () => {
  expect(as_of(labour, 1_800_000)).toMatchObject({ code: "labour_vet", args: { urgency: "vet_now", vet_at_ms: 0 } });
  expect(as_of(buck, 1_800_001)).toMatchObject({ code: "off_feed_vet", args: { urgency: "vet_now" } });
});

test("a word without a clock, and one that is the vet's already, are left alone", () => {
  const plain = { code: "off_feed_now" as const, args: { vet_at_ms: 0 } };
  const vet = { code: "off_feed_vet" as const, args: { vet_at_ms: 5 } };
  expect([as_of(plain, 9), as_of(vet, 9)]).toEqual([plain, vet]);
});
