import { late_on } from "../balance/balance.ts";
import type { Context } from "../ground/context.ts";
import { all } from "../words/prompts.ts";
import type { DoeResult } from "../ground/shapes.ts";
import { FIRST_OF_SUMS, RANKS, type PromptCode } from "../../tables/prompts.ts";
import type { Barn } from "./barn.ts";
import { GOALS, type Goal } from "./goals.ts";
import { down, legume_down, up } from "./ladder.ts";
import type { Rung } from "./rungs.ts";
import { hay_for_grain, hold_split, keep_amount, more_fibre, safe_steps } from "./special.ts";

export type Asked = [code: PromptCode, goal: Goal];

/** The foremost word an act may answer; none while something that cannot wait is said, or nothing may be fed. */
export function asks(ctx: Context, id: string, result: DoeResult): Asked | null {
  if (result.standing !== "ok" || result.down) return null;
  const said = all(ctx, id, result).flatMap((each) => each?.code ?? []);
  const codes = said.sort((a, b) => RANKS[a] - RANKS[b]);
  const code = codes.find((each) => GOALS[each]);
  return code && RANKS[codes[0]!] >= FIRST_OF_SUMS ? [code, GOALS[code]!] : null;
}

/** Two people set the plan differently: that is settled first. */
export function under_question(ctx: Context, subjects: string[]): boolean {
  return [...ctx.asked.keys()].some((key) => subjects.some((subject) => key.startsWith(`${subject}|`)));
}

/** What is tried, the smallest first. Nothing comes down for its own sake from the late day on. */
export function rungs(barn: Barn, { way, of }: Goal): Rung[] {
  const late = late_on(barn.ctx, barn.id, barn.start);
  switch (way) {
    case "up":
      return up(barn);
    case "down":
      return of === "ca" ? legume_down(barn) : late ? [] : down(barn);
    case "limit":
      return [...hold_split(barn), ...hay_for_grain(barn)];
    case "fibre":
      return more_fibre(barn);
    case "steps":
      return safe_steps(barn);
    case "cut":
      return keep_amount(barn);
  }
}
