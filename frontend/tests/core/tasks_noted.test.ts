import { describe, expect, test } from "vitest";
import { addDays } from "../../src/core/base/days.ts";
import { tasks_due } from "../../src/core/barn/tasks.ts";
import { new_doe } from "../../src/core/state/doe_state.ts";
import type { Doe, View } from "../../src/core/state/view.ts";
import { served, farm, word, row, own, given, milked } from "./tasks_farm.ts";

/** A clock's reading at noon of a day. */
const stamp = (on: string) => `${(Date.parse(`${on}T12:00Z`)).toString(16).padStart(12, "0")}-0000-00000001`;
const noted = (on: string, from = "2026-10-01", written = on, more: Partial<Doe> = {}) => {
  const doe = served("d", from, from, { stamp: { sex: stamp(on), name: stamp("2027-08-01") }, ...more });
  return farm([{ ...doe, bred: { ...doe.bred!, hlc: stamp(written) } }]);
};
const late = (view: View, day: string) => tasks_due(view, given(day), 14).filter(({ late }) => late);
const asked = (view: View, day: string) => tasks_due(view, given(day), 14).filter(({ asked }) => asked);

describe("what was over before anybody wrote it down", () => {
  test("is late of no doe, on no day of her pregnancy, wherever in it she was written down", () => {
    for (let d = 0; d < 160; d += 1) {
      const on = addDays("2026-10-01", d);
      expect(late(noted(on), on), on).toEqual([]);
    }
  });
  test("is asked for once, calmly, where it would still be done, and is on no calendar", () => {
    const view = noted("2027-02-20");
    expect(asked(view, "2027-02-20").map(({ task }) => task)).toEqual(["booster", "kit", "kidding_pen"]);
    expect(asked(view, "2027-02-20").every(({ loose, late }) => loose && !late)).toBe(true);
    const said = { tasks: [word("booster", "d", "2027-02-28", "done", { on: "2027-02-20" })] };
    expect(asked({ ...view, ...said }, "2027-02-21").map(({ task }) => task)).toEqual(["kit", "kidding_pen"]);
  });
  test("hangs on when the service was written down, too", () => {
    const told_late = noted("2024-05-01", "2026-10-01", "2027-01-05");
    expect(late(told_late, "2027-01-05")).toEqual([]);
    expect(late(noted("2024-05-01", "2026-10-01", "2026-10-02"), "2027-01-05").map(({ task }) => task))
      .toEqual(["scan", "slim_check"]);
  });
  test("and what comes after that is late as ever", () => {
    expect(late(noted("2027-01-25"), "2027-02-09").map(({ task }) => task)).toContain("booster");
  });
});

describe("before anybody wrote it down, too", () => {
  test("a doe in milk past her day is asked about, not blamed", () => {
    const late_told = noted("2027-01-15", "2026-10-01", "2027-01-15", milked);
    expect(asked(late_told, "2027-01-15").map(({ task }) => task)).toEqual(["dry_off"]);
  });
  test("nothing is late of a kid, of the season and of one's own", () => {
    const f = { born_on: "2026-06-01", sex: "buck", dam: "d" };
    const kid = { kids: { k: { ...row("k", f), stamp: { sex: stamp("2026-09-10") } } } };
    expect(late(farm([], kid), "2026-09-10")).toEqual([]);
    const found = asked(farm([], kid), "2026-09-10").map(({ task }) => task);
    expect(found).toEqual(["kid_vaccine", "wean", "buckling_apart"]);
    const services = [{ ev: "b", from: "2025-11-01", to: "2025-11-01", how: "hand", buck: "" }];
    const doe = { ...new_doe("d"), f: { sex: "doe", size: "standard" }, services, stamp: { sex: stamp("2026-11-05") } };
    expect(late(farm([doe]), "2026-11-06")).toEqual([]);
    const mine = own("o", { anchor: "date", date: "2026-10-20" });
    mine.own_tasks["o"]!.stamp = { title: stamp("2026-11-05") };
    expect(late(farm([], mine), "2026-11-06")).toEqual([]);
  });
});
