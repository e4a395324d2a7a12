import { gestation_on } from "../ground/branches.ts";
import { div } from "../../base/ints.ts";
import { condition_ahead_said } from "./condition_ahead.ts";
import type { Context } from "../ground/context.ts";
import { energy_word } from "./energy_word.ts";
import { her_state, type HerState } from "../balance/her_state.ts";
import { last_score } from "../feeding/needs.ts";
import type { DoeResult, NutrientLine, Said } from "../ground/shapes.ts";
import { HAY_ROUND_G } from "../../tables/numbers.ts";

/** What is to be said of her energy. That she will be too thin at kidding goes before asking for a score. */
export function energy_prompt(ctx: Context, id: string, result: DoeResult): Said | null {
  const said = energy_said(ctx, id, result.lines["me"]!);
  return said && said.code !== "score_her" ? said : (condition_ahead_said(ctx, id, result) ?? said);
}

/** The energy word with what its sentence needs: from when, what bears it out, and where she stands. */
function energy_said(ctx: Context, id: string, line: NutrientLine): Said | null {
  const [word, witness] = energy_word(ctx, id, line);
  if (!word) return null;
  const state = said_state(ctx, id);
  if (word === "score_her") {
    const score = last_score(ctx, id);
    return { code: word, args: { age_d: score ? score.age_d : -1, x100: score ? score.x100 : 0, state } };
  }
  const args = { pm: line.pm, on: line.ahead ? line.ahead.on : ctx.day, witness, state };
  return { code: `energy_${word}`, args: word === "over" ? { ...args, least_g: least_hay(ctx, id) } : args };
}

/** Long hay as fed, under which slimming never goes. */
function least_hay(ctx: Context, id: string): number {
  const fed_g = div(ctx.outlooks[id]!.limits.forage_floor_g * 1000, ctx.rule_or_ours("grain_dm_pm"));
  return HAY_ROUND_G * div(fed_g + HAY_ROUND_G - 1, HAY_ROUND_G);
}

/** Of energy a growing doe and a dry one hear the same: that they carry, or are open. */
function said_state(ctx: Context, id: string): Exclude<HerState, "growing" | "dry"> | "carrying" {
  const state = her_state(ctx, id);
  if (state !== "growing" && state !== "dry") return state;
  return gestation_on(ctx, id, ctx.day) >= 0 ? "carrying" : "open";
}
