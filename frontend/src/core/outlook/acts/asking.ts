import { late_on } from "../balance/balance.ts";
import { thin_late } from "../balance/her_state.ts";
import type { Context } from "../ground/context.ts";
import { all } from "../words/prompts.ts";
import { held_score } from "../feeding/needs.ts";
import type { DoeResult } from "../ground/shapes.ts";
import { FIRST_OF_SUMS, RANKS, type PromptCode } from "../../tables/prompts.ts";
import type { Barn } from "./barn.ts";
import { hay_for_grain } from "./exchange.ts";
import { AFTER_CUT, GOALS, type Goal } from "../verdict/goals.ts";
import { down, legume_down, plainer, up } from "./ladder.ts";
import type { Rung } from "./rungs.ts";
import { past_slimming } from "../verdict/score_awaited.ts";
import { hay_in_steps, hold_split, keep_amount, more_fibre, safe_steps } from "./special.ts";
import { spread_grain } from "./spread.ts";

export type Asked = [code: PromptCode, goal: Goal];

/** The foremost word an act may answer; none while something that cannot wait is said, or nothing may be fed. */
export function asks(ctx: Context, id: string, result: DoeResult): Asked | null {
  if (result.standing !== "ok" || result.down) return null;
  const said = all(ctx, id, result).filter((each) => each !== null).sort((a, b) => RANKS[a.code] - RANKS[b.code]);
  const found = said.find(({ code }) => GOALS[code]);
  if (!found || RANKS[said[0]!.code] < FIRST_OF_SUMS) return null;
  // what is cut already is not kept: she gets more again
  const cut = found.code === "net_cut_late" && String(found.args["on"]) <= ctx.day;
  const goal = with_others(cut ? AFTER_CUT : GOALS[found.code]!, said.map(({ code }) => code));
  return [found.code, { ...goal, by_score: goal.by_score || (goal.way === "up" && at_edge(ctx, id, result)) }];
}

/** Her next score may well be a notch lower, and then she needs what brings her back. */
function at_edge(ctx: Context, id: string, { band }: DoeResult): boolean {
  const score = held_score(ctx, id);
  return score !== null && band.length > 0 && score.x100 <= band[0]!;
}

/** Whatever else is said of her that wants the same: one act answers all of it. */
function with_others(goal: Goal, said: PromptCode[]): Goal {
  const same = said.flatMap((code) => GOALS[code] ?? []).filter(({ of, way }) => of === goal.of && way === goal.way);
  const gone = [goal, ...same].flatMap((each) => each.gone);
  // nothing more, nor less, of anything is an answer that leaves her with too little hay
  if (goal.of === "me" && ["up", "down"].includes(goal.way) && said.includes("forage_low")) gone.push("forage_low");
  return { ...goal, gone: [...new Set(gone)], by_score: [goal, ...same].some(({ by_score }) => by_score) };
}

/** Two people set the plan differently: that is settled first. */
export function under_question(ctx: Context, subjects: string[]): boolean {
  return [...ctx.asked.keys()].some((key) => subjects.some((subject) => key.startsWith(`${subject}|`)));
}

/** What is tried, the smallest first. Nothing comes down for its own sake once it is too late to slim. */
export function rungs(barn: Barn, { way, of, gone }: Goal): Rung[] {
  const { ctx, id, start } = barn;
  const late = late_on(ctx, id, start) || past_slimming(ctx, id, held_score(ctx, id)?.x100 ?? 0);
  switch (way) {
    case "up":
      return up(barn);
    case "down":
      if (of === "ca") return thin_late(ctx, id) ? [] : [...legume_down(barn), ...plainer(barn)];
      return late ? [] : down(barn);
    case "limit":
      return [...hold_split(barn), ...spread_grain(barn), ...hay_for_grain(barn)];
    case "fibre":
      return more_fibre(barn);
    case "steps":
      return gone.includes("forage_switch_planned") ? hay_in_steps(barn) : safe_steps(barn);
    case "cut":
      return keep_amount(barn);
  }
}
