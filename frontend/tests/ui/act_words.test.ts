import { describe, expect, it, vi } from "vitest";
import type { Act, ActLine, Acts } from "../../src/core/outlook/acts/shapes.ts";
import { NO_ACTS } from "../../src/core/outlook/acts/shapes.ts";
import {
  by_plan_said, ketones_said, lines_said, none_said, now_said, raises_grain, title,
} from "../../src/ui/acts/words.ts";

vi.mock("../../src/ui/model/day.svelte.ts", () => ({
  day: { named: (id: string) => id, spoken: (on: string) => on, mealDay: (on: string) => on,
    amount: (g: number) => `${g} g` },
}));
vi.mock("../../src/ui/model/herd.ts", () => ({
  shortly: (name: string) => name, doesIn: (_: unknown, pen: string) => (pen === "west" ? ["bea"] : []),
}));
vi.mock("../../src/ui/sentences/amounts.ts", () => ({
  flakeOf: () => ({ g: 0 }), spokenAmount: (_: string, g: number) => `${g} g`,
  infoOf: (name: string) => ({ name, class: name === "barley" ? "grain" : "grass" }),
}));

const off = { feed: "", g: 0, pm: 300, days: 9, helps: null };
const none = (of: Acts["of"], code: Acts["for"], state: string) =>
  none_said({ ...NO_ACTS, for: code, of, none: off }, state).join(" ");

describe("nothing on the farm does it", () => {
  it("asks for ketones of her who may have them, and of no other", () => {
    for (const state of ["late", "fresh", "milk"]) expect(none("me", "energy_short", state)).toContain("ketones");
    for (const state of ["dry", "open", "growing"]) expect(none("me", "energy_short", state)).not.toContain("ketones");
  });
  it("says of calcium how far it is off, and asks for no score", () => {
    for (const code of ["calcium_short", "calcium_over"] as const) {
      expect(none("ca", code, "late")).toContain("calcium");
      expect(none("ca", code, "late")).not.toMatch(/[Ss]core|ketones/);
    }
  });
});

describe("moved to another pen", () => {
  const left: ActLine = {
    subject: "barn", to: "pen", slot: "morning", feed: "meadow", from_g: 2000, steps: [["tomorrow", 1100]],
  };
  const line: ActLine = { ...left, from_g: 0, steps: [["tomorrow", 900]], moves: "ada" };
  const act = (pen: string, made: boolean): Act => ({
    code: "move", to: "doe", subject: "ada", lines: [{ ...line, subject: pen }, left], slow: false, ends_on: "",
    brings: { of: "me", from_pm: 1200, to_pm: 1000, by_on: "" }, moves: { doe: "ada", pen, made },
  });
  const said = (pen: string, made: boolean) => lines_said(act(pen, made)).map(({ text }) => text);
  it("says where to and when, what she gets there and what the others are left", () => {
    expect(said("west", false)).toEqual([
      "Move ada to west tomorrow.",
      "west: Morning: 900 g of meadow from tomorrow.",
      "barn: Morning: 1100 g of meadow from tomorrow, down from 2000 g.",
    ]);
  });
  it("tells a helper what stands until then where she is", () => {
    expect(now_said(act("west", false))).toBe("Morning: 2000 g of meadow");
  });
  it("names a pen that is made after her, and leaves her no goat alone", () => {
    expect(said("", true)[0]).toBe("Move ada to ada's pen tomorrow, where she sees and hears the others.");
    expect(said("empty", false)[0]).toBe("Move ada to empty tomorrow, where she sees and hears the others.");
  });
});

describe("her plan answers it", () => {
  const by_plan = (code: Acts["for"], state: string) =>
    by_plan_said({ ...NO_ACTS, for: code, of: "me", by_plan: "2026-12-01" }, state);
  it("leaves no thin late doe to herself for two weeks", () => {
    for (const code of ["condition_thin_late", "condition_ahead_low"] as const)
      expect(by_plan(code, "")).toContain("a week");
    expect(by_plan("condition_thin", "dry")).toContain("two weeks");
    // a limit is no matter of waiting
    for (const code of ["grain_meal_big", "net_cut_late", "forage_low"] as const)
      expect(by_plan(code, "dry")).toMatch(/^Her plan takes care of it/);
  });
  it("is done already, or another way than what is asked, and never the contrary of it", () => {
    const by_need = (code: Acts["for"]) =>
      by_plan_said({ ...NO_ACTS, for: code, of: "me", by_plan: "2026-12-01", by_need: true }, "dry");
    expect(by_plan("energy_over", "dry")).toMatch(/^She already gets less, or it is planned/);
    expect(by_plan("calcium_short", "dry")).toMatch(/^She already gets more, or it is planned/);
    expect(by_need("energy_over")).toMatch(/^You may also leave it as it is: she will need more/);
    expect(by_need("energy_short")).toMatch(/^You may also leave it as it is: she will need less/);
  });
});

const line = (slot: string, feed: string, from_g: number, ...steps: [string, number][]): ActLine => ({
  subject: "fern", to: "doe", slot, feed, from_g, steps,
});
const act = (code: Act["code"], ...lines: ActLine[]): Act => ({
  code, to: "doe", subject: "fern", lines, brings: { of: "me", from_pm: 900, to_pm: 1000, by_on: "2026-12-01" },
  slow: false, ends_on: "",
});

describe("an act", () => {
  it("names its meals as the day goes, and says no step a hand does not see", () => {
    const kept = act("keep_amount", line("evening", "hay", 900, ["2026-11-21", 900]), line("morning", "hay", 900, [
      "2026-11-21", 900]));
    expect(lines_said(kept)[0]!.text).toMatch(/^Morning and evening/);
    const filled = lines_said(act("fill_feeder", line("morning", "hay", 700, ["2026-11-21", 900], ["2026-11-28", 900],
      ["2026-12-05", 950])));
    expect(filled).toHaveLength(1);
    expect(filled[0]).toEqual({ text: expect.stringContaining("950 g") as unknown, steps: [] });
  });
  it("is called by the grain that comes down first as well", () => {
    const hay = line("morning", "hay", 900, ["2026-11-21", 700]);
    expect(title(act("hay_down", hay))).toBe("Less hay");
    const barley = line("morning", "barley", 200, ["2026-11-21", 0]);
    expect(title(act("hay_down", barley, hay))).toBe("Less grain, then less hay");
  });
  it("raises grain only while her gut bears it, and reads ketones late whatever feed is offered", () => {
    expect(raises_grain(act("hay_and_grain", line("morning", "barley", 0, ["2026-11-21", 40])))).toBe(true);
    expect(raises_grain(act("better_hay", line("morning", "hay", 0, ["2026-11-21", 400])))).toBe(false);
    expect(raises_grain(act("hold_split", line("midday", "barley", 0, ["2026-11-21", 400])))).toBe(false);
    const found = (code: Acts["for"]) => ({ ...NO_ACTS, for: code });
    const ketones = (code: Acts["for"], state: string, does?: string[]) =>
      ketones_said(found(code), { args: { state, ...(does && { does }) }, in_pen: Boolean(does) });
    expect(ketones("energy_short", "late")).toContain("her ketones");
    expect(ketones("energy_short", "late", ["fern", "ash"])).toContain("their ketones");
    expect([ketones("energy_short", "carrying"), ketones("calcium_short", "late")]).toEqual(["", ""]);
  });
});
