import { describe, expect, it, vi } from "vitest";
import type { Acts } from "../../src/core/outlook/acts/shapes.ts";
import { NO_ACTS } from "../../src/core/outlook/acts/shapes.ts";
import { by_plan_said, none_said } from "../../src/ui/acts/words.ts";

vi.mock("../../src/ui/model/day.svelte.ts", () => ({
  day: { named: (id: string) => id, spoken: (on: string) => on, amount: (g: number) => `${g} g` },
}));
vi.mock("../../src/ui/model/herd.ts", () => ({ shortly: (name: string) => name }));
vi.mock("../../src/ui/sentences/amounts.ts", () => ({}));

const none = (of: Acts["of"], code: Acts["for"], state: string) =>
  none_said({ ...NO_ACTS, for: code, of, none: { feed: "", g: 0, pm: 300, days: 9, helps: null } }, state).join(" ");

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

describe("her plan answers it", () => {
  const by_plan = (code: Acts["for"], state: string) =>
    by_plan_said({ ...NO_ACTS, for: code, of: "me", by_plan: "2026-12-01" }, state);
  it("leaves no thin late doe to herself for two weeks", () => {
    for (const code of ["condition_thin_late", "condition_ahead_low"] as const)
      expect(by_plan(code, "")).toContain("a week");
    expect(by_plan("condition_thin", "dry")).toContain("two weeks");
  });
  it("says why what is over is left as it is", () => {
    expect(by_plan("energy_over", "dry")).toContain("need climbs");
    expect(by_plan("energy_short", "dry")).not.toContain("need climbs");
  });
});
