import { div } from "../../base/ints.ts";
import type { Mark, Ration } from "../../state/view.ts";
import { day_sums, permille, window } from "../balance/balance.ts";
import { days_between, NUTRIENTS, shift, type Context } from "../ground/context.ts";
import type { Nutrient, OnAct } from "../ground/shapes.ts";
import { last_score } from "../feeding/needs.ts";
import { ACT_HOLDS_D, ACT_STANDS_PM, REST_CLEAR_D, THREE_D, WEEK_D } from "../../tables/numbers.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { cleaned } from "./feeder.ts";
import { GOALS } from "./goals.ts";
import { observed } from "./witness.ts";

/**
 * Somebody put an act in her plan that was tried along four weeks before it was offered. While she is fed by it and
 * what it promised stands, the word it answers is not said again: days before it are still in her week's sums, and a
 * score takes a month to move.
 */
export function on_acts(ctx: Context, id: string): OnAct[] {
  const { pen, kidded } = ctx.doe(id);
  const shares = pen !== "" && ctx.pen_mates(pen, ctx.day).length > 1;
  const found = new Map<string, OnAct>();
  for (const ration of [...(ctx.plans.get(id) ?? []), ...(pen ? (ctx.plans.get(pen) ?? []) : [])]) {
    const mark = ration.marks.at(-1);
    // with kids at foot she needs another plan
    if (!mark || !is_on(ctx, mark) || (kidded && kidded.on >= mark.on)) continue;
    const act = act_of(mark, last_on(ration));
    // what was put in a feeder for several may have been for another of them
    const early = shares && ration.subject === pen && !is_whole(ctx, act);
    if (act && !early && stands(ctx, id, act, mark)) found.set(`${act.of}|${act.way}`, act);
  }
  return [...found.values()];
}

/** What one of them has answered. */
export function is_answered({ day }: Context, acts: OnAct[], code: PromptCode): boolean {
  // her week holds days before it on which she had too little hay
  const more = (act: OnAct) => act.of === "me" && act.way === "up" && days_between(act.whole_on, day) < WEEK_D;
  if (code === "forage_low" && acts.some(more)) return true;
  const goal = GOALS[code];
  return goal !== undefined && acts.some(({ of, way }) => of === goal.of && way === goal.way);
}

function is_on({ day }: Context, { act, on }: Mark): boolean {
  const since_d = days_between(on, day);
  return act !== "" && since_d >= -1 && since_d <= ACT_HOLDS_D;
}

function act_of({ on, of, from_pm, to_pm }: Mark, whole_on: string): OnAct | null {
  const nutrient = NUTRIENTS.find((key) => key === of);
  if (!nutrient || from_pm === to_pm) return null;
  const way = to_pm > from_pm ? "up" : "down";
  return { of: nutrient, way, on, whole_on, until: shift(on, ACT_HOLDS_D) };
}

const last_on = ({ steps }: Ration): string => steps.at(-1)![0];

/** She gets what the plan says, it comes to what was promised, and nobody saw otherwise. */
function stands(ctx: Context, id: string, act: OnAct, { to_pm }: Mark): boolean {
  if (act.of === "me" && (seen_otherwise(ctx, id, act) || (act.way === "up" && observed(ctx, id)))) return false;
  if (days_between(act.on, ctx.day) < THREE_D) return true;
  const three = window(ctx, id, THREE_D);
  // what she leaves of it was not hers to eat: then the tolerance is twice that
  const most_pm = act.way === "up" && !cleaned(ctx, id) ? 2 * ACT_STANDS_PM : ACT_STANDS_PM;
  const near = (is: number, should: number) =>
    act.way === "up" ? is * 1000 >= should * (1000 - most_pm) : is * 1000 <= should * (1000 + most_pm);
  if (!three.days || !near(three.got[act.of], planned(ctx, id, act.of))) return false;
  return !is_whole(ctx, act) || near(permille(three.got[act.of], three.need[act.of]), to_pm);
}

/** All of its steps have stood for some days. */
const is_whole = ({ day }: Context, act: OnAct | null): boolean => act !== null && days_between(act.whole_on, day) >= THREE_D;

/** A score went clearly the other way; one of its first weeks is no answer yet. */
function seen_otherwise(ctx: Context, id: string, { on, way }: OnAct): boolean {
  const score = last_score(ctx, id);
  if (!score || days_between(on, ctx.day) - score.age_d < REST_CLEAR_D) return false;
  return (way === "up" ? score.fell : -score.fell) >= ctx.rule("score_fell_x100");
}

/** Of the same three days, as they were planned. */
function planned(ctx: Context, id: string, of: Nutrient): number {
  const days = Array.from({ length: THREE_D }, (_, k) => day_sums(ctx, id, shift(ctx.day, -k), true));
  const known = days.flatMap((sums) => (sums ? sums.got[of] : []));
  return known.length ? div(known.reduce((total, got) => total + got, 0) * window(ctx, id, THREE_D).days, known.length) : 0;
}
