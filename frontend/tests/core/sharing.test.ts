import { expect, test } from "vitest";
import { largest_remainder } from "../../src/core/outlook/feeding/sharing.ts";

test("shares add up and ties go by id", () => {
  expect(largest_remainder(10, { b: 1, a: 1, c: 1 })).toEqual({ b: 3, a: 4, c: 3 });
  expect(largest_remainder(5, { a: 0, b: 0 })).toEqual({ a: 0, b: 0 });
});
