import fc from "fast-check";
import { expect, test } from "vitest";
import { Clock, readingOf } from "../../src/core/base/clock.ts";

const DEVICE = "0a0b0c0d-1111-4111-8111-111111111111";

test("a clock set back keeps counting forward", () => {
  const clock = new Clock(DEVICE);
  const first = clock.tick(2_000);
  const second = clock.tick(1_000);
  expect(second > first).toBe(true);
  expect(readingOf(second)).toEqual({ ms: 2_000, count: 1 });
});

test("a full counter spills into the next millisecond and still sorts", () => {
  const clock = new Clock(DEVICE, { ms: 5, count: 0xffff });
  expect(readingOf(clock.tick(5))).toEqual({ ms: 6, count: 0 });
});

test("what is heard from elsewhere is before everything said afterwards", () => {
  const clock = new Clock(DEVICE);
  const heard = "00000000ffff-0003-ffffffff";
  clock.merge(heard);
  expect(clock.tick(10) > heard).toBe(true);
});

test("a stamp at the end of time, heard or kept from before, leaves a clock that still has something to say", () => {
  const clock = new Clock(DEVICE);
  clock.merge("ffffffffffff-ffff-ffffffff");
  clock.catchUp({ ms: 0xffffffffffff, count: 0xffff });
  expect(readingOf(clock.tick(10))).toEqual({ ms: 10, count: 0 });
});

test.each(["", "rubbish", "00000000ffff-0003", "zzzzzzzzzzzz-0000-00000000"])("%j moves no clock", (hlc) => {
  const clock = new Clock(DEVICE);
  clock.merge(hlc);
  expect(clock.last).toEqual({ ms: 0, count: 0 });
});

test("a stored reading is caught up with, never gone back to", () => {
  const clock = new Clock(DEVICE, { ms: 9, count: 2 });
  clock.catchUp({ ms: 9, count: 1 });
  clock.catchUp(undefined);
  expect(clock.last).toEqual({ ms: 9, count: 2 });
  clock.catchUp({ ms: 9, count: 7 });
  expect(clock.last).toEqual({ ms: 9, count: 7 });
});

test("whatever the phone's time does, readings sort as text in the order they were taken", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 2 ** 44 }), { minLength: 2 }), (times) => {
      const clock = new Clock(DEVICE);
      const said = times.map((now) => clock.tick(now));
      expect([...said].sort()).toEqual(said);
      expect(new Set(said).size).toBe(said.length);
    }),
  );
});
