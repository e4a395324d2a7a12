import { describe, expect, it, vi } from "vitest";
import { RANKS, type PromptCode } from "../../src/core/tables/prompts.ts";
import { restsOf, say } from "../../src/ui/sentences/prompt.ts";

const HOUR_MS = vi.hoisted(() => 3_600_000);
vi.mock("../../src/ui/model/day.svelte.ts", () => ({
  day: { named: (id: string) => id, spoken: (on: string) => on, mealDay: (on: string) => on,
    units: "metric", now: 2 * HOUR_MS,
    when: (at: number) => `in ${at / HOUR_MS}`, near: (at: number) => `in ${at / HOUR_MS}` },
}));
vi.mock("../../src/ui/model/herd.ts", () => ({}));
vi.mock("../../src/ui/sentences/amounts.ts", () => ({}));

/** The sentence a doe's state and feeds call for, in English. */
function said(code: PromptCode, args: Record<string, unknown>) {
  return say({ code, rank: RANKS[code], subject: "fern", args, in_pen: false });
}

const SOON = { on: "2026-11-25" };

describe("calcium", () => {
  const heading = (state: string, legume: string, cause = "plan") =>
    said("calcium_heading_short", { ...SOON, state, legume, cause });
  it("keeps the legume until milk is down for a milker alone", () => {
    expect(heading("milk", "fed").act).toContain("until her milk is down");
    for (const state of ["dry", "late", "open", "growing", "fresh"])
      expect(heading(state, "fed").act).not.toContain("milk");
  });
  it("blames the plan only where the plan changes", () => {
    expect(heading("late", "fed").why).toContain("comes down");
    expect(heading("late", "fed", "need").why).toContain("the plan stays");
  });
  it("trades no legume where there is none", () => {
    for (const code of ["calcium_short", "calcium_over", "calcium_heading_short", "calcium_heading_over", "ca_p_low"]) {
      const args = { ...SOON, pm: 700, ratio: 106, least: 120, state: "late", legume: "none" };
      const { act } = said(code as PromptCode, args);
      expect(act, code).not.toMatch(/trade|keep the|her legume|some legume/i);
    }
    expect(heading("milk", "hand").act).not.toContain("Keep");
  });
});

describe("what is foretold", () => {
  it("is told no finer than a tenth of a score", () => {
    const { text, why } = said("condition_ahead_low", { ...SOON, from: 275, x100: 222, low: 275 });
    for (const sentence of [text, why]) expect(sentence).toContain("about 2.2");
    expect(`${text} ${why}`).not.toContain("2.22");
    expect(why).toContain("Last score 2.75");
  });
});

describe("by her state", () => {
  it("is ketosis after kidding and toxemia before", () => {
    const why = (state: string) => said("ketones_vet", { x10: 20, urine: "", state }).why;
    expect([why("fresh").includes("ketosis"), why("fresh").includes("toxemia")]).toEqual([true, false]);
    expect([why("late").includes("ketosis"), why("late").includes("toxemia")]).toEqual([false, true]);
    expect(said("frozen_out", { ...SOON, state: "fresh", what: "again" }).why).not.toContain("toxemia");
  });
  it("ramps a fresh doe with a fresh doe's words", () => {
    const step = { ...SOON, feed: "", now: 200, then: 300, rule: true, legume: "fed" };
    expect(said("steps_ahead", { ...step, state: "fresh" }).why).toMatch(/^Fresh/);
    expect(said("steps_ahead", { ...step, state: "" }).why).toMatch(/^Close to kidding/);
    expect(said("steps_ahead", { ...step, state: "", legume: "none" }).act).not.toContain("legume");
  });
  it("says start her grain again only to one who had it", () => {
    const text = (what: string) => said("frozen_out", { ...SOON, state: "late", what }).text;
    expect([text("again").includes("again"), text("first").includes("again")]).toEqual([true, false]);
  });
});

describe("late", () => {
  it("holds and splits grain, by meal and by day, and never brings it down at once", () => {
    const args = { g: 700, limit: 600, day: 700, most: 600, meal: 300, days: 3 };
    for (const code of ["grain_meal_big", "grain_day_big"] as const) {
      const { text, act } = said(code, { ...args, late: true });
      expect(`${text} ${act}`).toMatch(/split/i);
      expect(`${text} ${act}`).not.toMatch(/bring .* down|come down/i);
    }
    expect(said("grain_day_big", { ...args, late: false }).act).toContain("Come down");
  });
  it("slims nobody, and before that grain first and never hay", () => {
    const fat = (late: boolean, first: string) =>
      said("condition_fat", { x100: 400, high: 350, late, first, state: "dry" });
    expect(fat(true, "grain").act).toContain("too late to slim");
    expect(fat(false, "grain").act).toMatch(/^Take her grain down first/);
    expect(fat(false, "legume").act).toMatch(/^Give grass hay for her legume/);
    for (const first of ["grain", "legume", "rich"]) expect(fat(false, first).act).toContain("quarter score a month");
  });
});

describe("what a safety word goes by", () => {
  it("is what its case says, or else the row of the word itself", () => {
    const of = (code: PromptCode, args = {}) => restsOf({ code, args }).map(({ standing }) => standing);
    expect(of("grain_overload_vet")).toEqual(["Our judgement"]);
    expect(of("overdue")).toEqual(["Common practice, no source"]);
    expect(of("udder_vet", { rests: ["cold_udder"] })).toEqual(["Common practice, no source"]);
    expect(of("record_next")).toEqual([]);
  });
});

describe("short of energy and of calcium", () => {
  const act = (state: string) => said("energy_short", { pm: 700, witness: "sums", also: "calcium", state }).act;
  it("puts legume before grain in each state, and asks for the reading that is hers", () => {
    for (const state of ["late", "fresh", "milk", "dry", "open"]) expect(act(state)).toContain("legume before grain");
    expect(act("late")).toContain("ketones");
    expect(act("milk")).toContain("Weigh her milk");
    expect(act("open")).not.toMatch(/ketones|milk/);
  });
  it("waits for no score with the legume", () => {
    expect(said("score_her", { age_d: -1, also: "calcium", state: "late" }).act).toContain("legume");
    expect(said("score_her", { age_d: -1, state: "late" }).act).not.toContain("legume");
  });
});

describe("short because less is put before her", () => {
  const less = (state: string) => said("energy_short", { pm: 906, on: "2026-11-25", witness: "less_feed", state });
  it("says that and no more, and reads ketones of her who may have them", () => {
    for (const state of ["late", "fresh", "milk", "dry", "open"]) {
      const { text, why, act } = less(state);
      expect(text).toBe("Give fern back what she had: she gets less than before.");
      expect(why).toContain("clearly gets less these days");
      expect(act).toContain("Give back what she had");
      expect(act.includes("ketones")).toBe(["late", "fresh"].includes(state));
    }
  });
});

describe("kids and looks", () => {
  it("speaks of one kid or of several", () => {
    const look = (kids: number[]) => said("kids_look", { kids, dry: kids }).text;
    expect([look([1]), look([1, 2, 3])]).toEqual(["Look at fern's kid 1 now.", "Look at fern's kids 1, 2 and 3 now."]);
    expect(said("kid_cold", { kids: [2], why: "cold" }).text).toContain("kid 2 is cold");
    expect(said("kid_no_colostrum", { kids: [1], dry: [1, 2] }).text).toContain("kids 1 and 2 drink");
  });
  it("names no time that has passed for a look after a grain jump", () => {
    const back = (recheck_ms: number) =>
      said("grain_jump_back", { what: "look", g: 300, limit: 100, hay_g: 450, recheck_ms, feed: "" }).text;
    expect(back(HOUR_MS)).toContain("Look at her now");
    expect(back(3 * HOUR_MS)).toContain("Look at her again in 3");
  });
});

describe("grain", () => {
  const plain = (text: string) => text.replaceAll("\u00a0", " ");
  it("is told in amounts that somebody weighs, a limit on the careful side", () => {
    const meal = { g: 849, limit: 208, day: 1698, most: 669, meal: 208, late: false, days: 3 };
    expect(plain(said("grain_meal_big", meal).text)).toContain("850 g in one meal; the most is 200 g");
    const back = said("grain_jump_back", { what: "fed", g: 303, limit: 98, hay_g: 450, recheck_ms: 0, feed: "" });
    expect(plain(back.text)).toContain("back to 100 g a day: she ate 300 g more");
  });
});

describe("a pen", () => {
  it("hears of all of them, and not of one doe's score", () => {
    const args = { pm: 800, on: "2026-11-25", witness: "condition", state: "late" };
    const pen = say({ code: "energy_short", rank: RANKS.energy_short, subject: "p", args: { ...args, does: ["a", "b"] },
      in_pen: true });
    expect([pen.text, pen.why]).toEqual([
      "Feed this pen more: energy is short for a and b.",
      "Each of them got less than she needs over the last week.",
    ]);
    expect(said("energy_short", args).why).toContain("her score");
  });
});
