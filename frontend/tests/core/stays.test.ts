import { describe, expect, test } from "vitest";
import {
  days_apart, days_lacking, days_to_follow, reached, stays_beyond, type Stay,
} from "../../src/core/barn/stays.ts";

const day = (n: number) => `2026-12-${String(n).padStart(2, "0")}`;
const dates = (from: number, to: number) => ({ from_on: day(from), to_on: day(to) });
const stay = (from: number, to: number): Stay => ({
  ...(from && { starts_on: day(from) }), ...(to && { ends_on: day(to) }),
});

describe("where the place and the pack are apart", () => {
  test.each([
    ["alike", [2, 6], [2, 6], [0, 0]],
    ["she stays", [2, 6], [0, 0], [0, 0]],
    ["her place ends before the pack", [2, 6], [2, 4], [0, 6]],
    ["her place goes on after it", [2, 4], [2, 6], [0, 4]],
    ["she is to come when it has begun", [2, 6], [4, 6], [2, 0]],
    ["she comes before it", [5, 6], [4, 6], [5, 0]],
    ["both", [5, 9], [4, 6], [5, 9]],
    ["the pack is over", [1, 2], [0, 6], [0, 0]],
    ["the pack ends before it begins", [6, 4], [0, 6], [0, 0]],
  ] as [string, number[], number[], number[]][])("%s", (_, [a, b], [from, to], [first, last]) => {
    expect(days_apart(dates(a!, b!), stay(from!, to!), day(3))).toEqual(stay(first!, last!));
  });

  test("who is in already is not put out until a pack that was moved begins", () => {
    expect(days_apart(dates(5, 8), stay(3, 8), day(3))).toEqual({});
    expect(days_apart(dates(5, 8), stay(1, 8), day(3))).toEqual({});
  });
});

describe("what follows a pack whose days are moved on the 1st", () => {
  test.each([
    ["later", [2, 4], [3, 6], [2, 4], [3, 6]],
    ["the end alone", [2, 4], [2, 6], [0, 4], [0, 6]],
    ["earlier", [4, 8], [2, 6], [4, 8], [2, 6]],
    ["to where it was before a save nobody heard of", [2, 5], [2, 6], [2, 4], [0, 6]],
    ["a place that was longer on purpose, and still reaches", [2, 4], [2, 6], [0, 20], [0, 0]],
    ["a place that was longer on purpose, and does no more", [2, 4], [2, 22], [0, 20], [0, 22]],
    ["a place that began before the pack on purpose", [4, 8], [5, 8], [2, 8], [0, 0]],
    ["nothing of who stays", [2, 4], [2, 6], [0, 0], [0, 0]],
  ] as [string, number[], number[], number[], number[]][])("%s", (_, [a, b], [c, d], [from, to], [first, last]) => {
    expect(days_to_follow(dates(a!, b!), dates(c!, d!), stay(from!, to!), day(1))).toEqual(stay(first!, last!));
  });
});

test("given a pack, a place is made to reach as far, and no shorter", () => {
  expect(days_lacking(dates(2, 6), stay(4, 5), day(1))).toEqual(stay(2, 6));
  expect(days_lacking(dates(2, 6), stay(0, 20), day(1))).toEqual({});
  expect(days_lacking(dates(2, 6), stay(0, 0), day(1))).toEqual({});
});

test("no day is said that her place does not reach", () => {
  expect(reached(dates(2, 6), stay(2, 4))).toEqual(dates(2, 4));
  expect(reached(dates(2, 6), stay(3, 8))).toEqual(dates(3, 6));
  expect(reached(dates(2, 6), {})).toEqual(dates(2, 6));
});

test("who is here for longer goes by the pack on its days alone", () => {
  expect(stays_beyond(dates(2, 6), {})).toBe(true);
  expect(stays_beyond(dates(2, 6), stay(0, 7))).toBe(true);
  expect(stays_beyond(dates(2, 6), stay(0, 6))).toBe(false);
});
