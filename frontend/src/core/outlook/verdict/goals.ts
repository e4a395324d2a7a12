import type { PromptCode } from "../../tables/prompts.ts";
import type { Nutrient } from "../ground/shapes.ts";

/** What has to be gone for an act to have answered a prompt. */
export type Way = "up" | "down" | "limit" | "steps" | "fibre" | "cut";

export interface Goal {
  of: Nutrient;
  way: Way;
  /** None of these may be said of her once it has had its time. */
  gone: PromptCode[];
  /** Her score speaks, and no act changes it today: her sums have to be right, and the word stays until her next. */
  by_score: boolean;
  /** Late too the whole of her need, as far as there is feed for it, and not her floor alone. */
  whole?: boolean;
  /** What was too much is said on until two weeks hold none of the days before. */
  slowly?: boolean;
  /** What only just does will do: nothing goes well inside. */
  just?: boolean;
}

const ME_UP: PromptCode[] = ["energy_short", "energy_heading_short"];
const ME_DOWN: PromptCode[] = ["energy_over", "energy_heading_over"];
const CA_UP: PromptCode[] = ["calcium_short", "calcium_heading_short"];
const CA_DOWN: PromptCode[] = ["calcium_over", "calcium_heading_over"];
const LIMIT: PromptCode[] = ["grain_meal_big", "grain_day_big"];
const STEPS: PromptCode[] = ["step_planned_big", "steps_too_fast"];

function goal(of: Nutrient, way: Way, gone: PromptCode[], by_score = false): Goal {
  return { of, way, gone, by_score };
}

/** Late, and her feed was cut some days ago. */
export const AFTER_CUT: Goal = goal("me", "up", ["net_cut_late", ...ME_UP]);

/** Prompts an act may answer. */
export const GOALS: Partial<Record<PromptCode, Goal>> = {
  grain_meal_big: goal("me", "limit", LIMIT),
  grain_day_big: goal("me", "limit", LIMIT),
  step_planned_big: goal("me", "steps", STEPS),
  steps_too_fast: goal("me", "steps", STEPS),
  forage_switch_planned: goal("me", "steps", ["forage_switch_planned"]),
  net_cut_late: goal("me", "cut", ["net_cut_late"]),
  energy_short: goal("me", "up", ME_UP),
  energy_heading_short: goal("me", "up", ME_UP),
  condition_ahead_low: goal("me", "up", ME_UP, true),
  energy_over: goal("me", "down", ME_DOWN),
  energy_heading_over: goal("me", "down", ME_DOWN),
  calcium_short: goal("ca", "up", CA_UP),
  calcium_heading_short: goal("ca", "up", CA_UP),
  calcium_over: goal("ca", "down", CA_DOWN),
  calcium_heading_over: goal("ca", "down", CA_DOWN),
  protein_short: goal("cp", "up", ["protein_short"]),
  fibre_low: goal("me", "fibre", ["fibre_low"]),
  condition_thin_late: goal("me", "up", ME_UP, true),
  forage_low: goal("me", "fibre", ["forage_low"]),
  grain_share_big: goal("me", "fibre", ["grain_share_big"]),
  ca_p_low: goal("ca", "up", ["ca_p_low"]),
  phosphorus_short: goal("p", "up", ["phosphorus_short"]),
  condition_thin: goal("me", "up", ME_UP, true),
  condition_fat: goal("me", "down", ME_DOWN, true),
};
