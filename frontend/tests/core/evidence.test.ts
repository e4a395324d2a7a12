import { expect, test } from "vitest";
import { evidenceOf, ownLengths, withBuck } from "../../src/core/barn/evidence.ts";
import { days_between } from "../../src/core/outlook/ground/context.ts";
import type { Doe } from "../../src/core/state/view.ts";
import { doe } from "../support/vet.ts";

const served = (ev: string, from: string, to = from, how = "hand"): Doe["services"][number] =>
  ({ ev, from, to, how, buck: "" });
const check = (ev: string, on: string, result = "pregnant"): Doe["checks"][number] =>
  ({ ev, on, result, kids: 2, aged_d: 38, how: "scan" });

test("what her dates go by stands in order, each as it was said", () => {
  const her = doe("fern", {
    services: [served("pen", "2026-10-01", "2026-10-22", "pen"), served("hand", "2026-10-03")],
    heats: [["2026-10-09", 0, "marked", "ada", "mark"], ["2026-10-24", 0, "flagging", "ada", "back"]],
    checks: [check("scan", "2026-11-12")],
  });
  expect(evidenceOf(her).map(({ ev }) => ev)).toEqual(["pen", "hand", "mark", "back", "scan"]);
  expect(evidenceOf(her).at(-1)).toMatchObject({ what: "check", check: { aged_d: 38 } });
});

test("what is of an older pregnancy, or long before the buck, is not among it", () => {
  const her = doe("fern", {
    open_on: "2026-09-01",
    services: [served("old", "2026-03-01"), served("now", "2026-10-03")],
    heats: [["2026-03-22", 0, "marked", "ada", "long"], ["2026-09-04", 0, "standing", "ada", "before"]],
    checks: [check("was open", "2026-09-01", "open")],
  });
  expect(evidenceOf(her).map(({ ev }) => ev)).toEqual(["now"]);
  expect(withBuck(her)).toBeUndefined();
});

test("a heat with no service is shown all the same", () => {
  const her = doe("fern", { heats: [["2026-10-09", 0, "marked", "ada", "mark"]] });
  expect(evidenceOf(her).map(({ ev }) => ev)).toEqual(["mark"]);
});

test("the buck who is out is the last one of this pregnancy", () => {
  const pens = [served("first", "2026-10-01", "2026-10-05", "pen"), served("last", "2026-11-01", "2026-11-05", "pen")];
  expect(withBuck(doe("fern", { services: [...pens, served("hand", "2026-11-07")] }))?.ev).toBe("last");
});

test("her own lengths are of services known to a day or two, a leap day counted", () => {
  const gestations = [
    { from: "2023-10-05", to: "2023-10-05", on: "2024-03-04", ev: "leap" },
    { from: "2024-10-01", to: "2024-10-03", on: "2025-03-02", ev: "two days" },
    { from: "2025-10-01", to: "2025-10-22", on: "2026-03-10", ev: "with the buck" },
    { from: "2026-05-01", to: "2026-05-01", on: "2026-07-01", ev: "a slip" },
  ];
  expect(ownLengths(doe("fern", { gestations }), days_between)).toEqual([151, 151]);
});
