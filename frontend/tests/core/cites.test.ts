import { expect, test } from "vitest";
import { cited } from "../../src/core/outlook/ground/cites.ts";
import type { Cites } from "../../src/core/outlook/ground/documents.ts";

const record: Cites = {
  of: "0a1b2c3d",
  rules: { late_day: 100, calcium_absorption_pm: 300 },
  terms: { "ca.milk": "46 49 calcium_absorption_pm", milk: "16" },
  branches: {
    as_is: { milk: "53-55", "me.floor": "7 late_day" },
    kidded1: { milk: "53 60", "me.floor": "" },
    kidded2: { milk: "61" },
  },
};

test("places, runs of places and herd rules, of every branch and of this one", () => {
  expect(cited(record, "ca.milk", "as_is")).toEqual({ places: [46, 49], rules: ["calcium_absorption_pm"] });
  expect(cited(record, "milk", "as_is")).toEqual({ places: [16, 53, 54, 55], rules: [] });
});

test("a branch says what differs from the one before it, and nothing is nothing", () => {
  expect(cited(record, "milk", "kidded2")).toEqual({ places: [16, 61], rules: [] });
  expect(cited(record, "me.floor", "kidded2")).toEqual({ places: [], rules: [] });
  expect(cited(record, "me.floor", "as_is").rules).toEqual(["late_day"]);
  expect(cited(record, "no_such_term", "as_is")).toEqual({ places: [], rules: [] });
});

test("a branch that was never compiled cites only what holds in every one", () => {
  expect(cited(record, "milk", "none").places).toEqual([16]);
});
