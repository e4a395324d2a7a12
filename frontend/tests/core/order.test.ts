import { expect, test } from "vitest";
import { canonical } from "../../src/core/events/canonical.ts";
import { byCodePoint } from "../../src/core/events/order.ts";

test("text sorts by code point, as Python sorts it", () => {
  const words = ["\u{1f410}", "\uffee", "b", "a", "", "ab", "é"];
  expect(words.sort(byCodePoint)).toEqual(["", "a", "ab", "b", "é", "\uffee", "\u{1f410}"]);
});

test("canonical text sorts keys at every depth and has no spaces", () => {
  expect(canonical({ b: [1, { d: null, c: "ä" }], a: true, 10: -0, 9: 0 })).toBe(
    '{"10":0,"9":0,"a":true,"b":[1,{"c":"ä","d":null}]}',
  );
});

test.each([0.5, Number.NaN, 2 ** 53, Infinity])("%d has no canonical text", (value) => {
  expect(() => canonical({ value })).toThrow(TypeError);
});
