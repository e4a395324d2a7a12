import { describe, expect, test } from "vitest";
import { mayLink, mayWrite, records, way, wayName } from "../../src/core/barn/may.ts";
import { CHAIN_KINDS, VERSIONS } from "../../src/core/events/kinds.ts";
import { FORMS } from "../../src/core/tables/forms.ts";
import { USUAL, type Role } from "../../src/core/tables/roles.ts";

/** What the phone says before a tap is what the server says after it: from one table. */
const ROLES = Object.keys(USUAL) as Role[];
const KINDS = Object.keys(VERSIONS);

test("who plans may do all of it, an adviser none, and a role nobody knows none either", () => {
  for (const kind of KINDS) {
    for (const role of ["owner", "family"]) {
      expect([wayName(role, kind), mayWrite(role, kind, [], true)]).toEqual(["all", true]);
    }
    for (const role of ["adviser", "", "constructor", "__proto__"]) {
      expect([way(role, kind).record, mayLink(role, "void", kind, true)]).toEqual(["never", false]);
    }
  }
});

describe("a helper", () => {
  test.each([
    ["ration", true, false, false], ["rules", false, false, false], ["contact", false, false, false],
    ["left_herd", false, false, false], ["treatment", true, true, false], ["udder", true, true, true],
    ["jar", true, true, true], ["freeze", true, false, false], ["nothing_we_know", false, false, false],
    ["constructor", false, false, false],
  ])("%s: records %s, corrects her own %s, others' %s", (kind, records, own, others) => {
    const corrects = [true, false].map((hers) => mayLink("helper", "correct", kind, hers));
    expect([mayWrite("helper", kind, [], false), ...corrects]).toEqual([records, own, others]);
  });

  test("what is in a feed is hers to say while nobody has", () => {
    for (const kind of ["feed", "lot"]) {
      expect(mayWrite("helper", kind, ["cp_pct_x10", "name"], false)).toBe(true);
      expect(mayWrite("helper", kind, ["name"], true)).toBe(true);
      for (const field of Object.keys(FORMS["lot 1"]!).filter((name) => /pct|ppm/.test(name))) {
        expect(mayWrite("helper", kind, [field], true)).toBe(false);
      }
    }
    expect(mayWrite("helper", "doe", ["order"], true)).toBe(false);
    expect(mayWrite("helper", "shelf", ["told"], true)).toBe(false);
  });
});

test("every role has an answer for every kind", () => {
  for (const role of ROLES) for (const kind of KINDS) expect(way(role, kind).record).toBeTypeOf("string");
  expect(CHAIN_KINDS.every((kind) => mayWrite("helper", kind, [], false))).toBe(true);
});

test("an adviser writes nothing down, everybody else something", () => {
  expect(ROLES.filter((role) => !records(role))).toEqual(["adviser"]);
  expect(records("nobody knows")).toBe(false);
});
