import { expect, test } from "vitest";
import { isId, newDeviceId, newId } from "../../src/core/base/ids.ts";
import { Dice } from "../support/random.ts";

const dice = new Dice(3);
const random = (n: number) => dice.bytes(n);

test("an id carries its millisecond, version 7 and the standard variant", () => {
  const id = newId(0x0192_3456_789a, random);
  expect(id.slice(0, 13)).toBe("01923456-789a");
  expect(id[14]).toBe("7");
  expect("89ab").toContain(id[19]);
});

test("the worked example of RFC 9562, appendix A.6", () => {
  const bytes = [0, 0, 0, 0, 0, 0, 0x7c, 0xc3, 0x98, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f];
  expect(newId(0x017f22e279b0, () => Uint8Array.from(bytes))).toBe("017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
});

test.each([-5, Number.MAX_SAFE_INTEGER, 1.5])("a clock of %d still gives an id", (now) => {
  expect(isId(newId(now, random))).toBe(true);
});

test("ten thousand ids of one millisecond differ", () => {
  const ids = Array.from({ length: 10_000 }, () => newId(1, random));
  expect(new Set(ids).size).toBe(10_000);
});

test("devices differ in their first eight digits even when set up in the same minute", () => {
  const heads = Array.from({ length: 200 }, () => newDeviceId(random).slice(0, 8));
  expect(new Set(heads).size).toBe(200);
});

test.each([null, 7, "", "x", "01923456-789A-7000-8000-000000000000"])("%j is no id", (value) => {
  expect(isId(value)).toBe(false);
});
