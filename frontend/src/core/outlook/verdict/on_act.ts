import { sum } from "../../base/ints.ts";
import type { Mark, Ration } from "../../state/view.ts";
import { confirmed, day_sums, late_on, permille, window } from "../balance/balance.ts";
import { days_between, NUTRIENTS, shift, type Context } from "../ground/context.ts";
import type { OnAct } from "../ground/shapes.ts";
import { last_score } from "../feeding/needs.ts";
import { ACT_HOLDS_D, ACT_STANDS_PM, DRY_SEEN_D, REST_CLEAR_D, THREE_D } from "../../tables/numbers.ts";
import { cleaned } from "./feeder.ts";
import { observed } from "./witness.ts";

const UNDOES_A_CUT = ["keep_amount", "give_back"];

/**
 * Somebody put an act in her plan that was tried along four weeks before it was offered. While she is fed by it and it
 * comes to what it promised, the word it answers says nothing new: a week's sums hold the days before it, and a score
 * takes a month to move.
 */
export function on_acts(ctx: Context, id: string): OnAct[] {
  const { pen, kidded } = ctx.doe(id);
  const shares = pen !== "" && ctx.pen_mates(pen, ctx.day).length > 1;
  const found = new Map<string, OnAct>();
  for (const ration of [...(ctx.plans.get(id) ?? []), ...(pen ? (ctx.plans.get(pen) ?? []) : [])]) {
    const act = act_in(ctx, ration);
    // with kids at foot she needs another plan
    if (!act || (kidded && kidded.on >= act.on)) continue;
    // what was put in a feeder for several may have been for another of them
    const early = shares && ration.subject === pen && !is_whole(ctx, act);
    if (!early && stands(ctx, id, act)) found.set(`${act.of}|${act.way}`, act);
  }
  return [...found.values()];
}

function act_in({ day }: Context, { marks, steps }: Ration): OnAct | null {
  const mark = marks.at(-1);
  const since_d = mark?.act ? days_between(mark.on, day) : ACT_HOLDS_D + 1;
  // a plan to dry her off is put in weeks before its first step
  const ahead_d = mark?.act === "plan_dry" ? DRY_SEEN_D : 1;
  return since_d >= -ahead_d && since_d <= ACT_HOLDS_D ? act_of(mark!, steps.at(-1)![0]) : null;
}

function act_of({ act, on, of, from_pm, to_pm, by_on }: Mark, whole_on: string): OnAct | null {
  const nutrient = NUTRIENTS.find((key) => key === of);
  if (!nutrient || from_pm === to_pm) return null;
  const way = to_pm > from_pm ? "up" : "down";
  const [back, dry] = [UNDOES_A_CUT.includes(act), act === "plan_dry"];
  return { back, dry, of: nutrient, way, on, by_on, whole_on, to_pm, until: shift(on, ACT_HOLDS_D) };
}

/** She gets what the plan says, it comes to what was promised, and nobody saw otherwise. */
function stands(ctx: Context, id: string, act: OnAct): boolean {
  if (act.of === "me" && (seen_otherwise(ctx, id, act) || (act.way === "up" && observed(ctx, id)))) return false;
  if (!fed_by(ctx, id, act)) return false;
  const three = window(ctx, id, THREE_D);
  if (!is_whole(ctx, act) || !three.days) return true;
  return near(ctx, id, act, permille(three.got[act.of], three.need[act.of]), act.to_pm);
}

/** All of its steps have stood for some days. */
function is_whole({ day }: Context, { whole_on }: OnAct): boolean {
  return days_between(whole_on, day) >= THREE_D;
}

/** A score went clearly the other way; one of its first weeks is no answer yet, but late a fall is always heard. */
function seen_otherwise(ctx: Context, id: string, { on, way }: OnAct): boolean {
  const score = last_score(ctx, id);
  const waits_d = way === "up" && late_on(ctx, id, ctx.day) ? 0 : REST_CLEAR_D;
  if (!score || days_between(on, ctx.day) - score.age_d < waits_d) return false;
  return (way === "up" ? score.fell : -score.fell) >= ctx.rule("score_fell_x100");
}

/** What she leaves was not hers to eat: then it may fall short by twice as much. */
function near(ctx: Context, id: string, { way }: OnAct, is: number, should: number): boolean {
  if (way === "down") return is * 1000 <= should * (1000 + ACT_STANDS_PM);
  return is * 1000 >= should * (1000 - ACT_STANDS_PM * (cleaned(ctx, id) ? 1 : 2));
}

/** Over the last days that were confirmed since it began she got what the plan says. */
function fed_by(ctx: Context, id: string, act: OnAct): boolean {
  const last = Array.from({ length: THREE_D }, (_, k) => shift(ctx.day, -k));
  const days = last.filter((on) => on >= act.on && confirmed(ctx, id, on));
  const got = (planned: boolean) => sum(days.map((on) => day_sums(ctx, id, on, planned)?.got[act.of] ?? 0));
  return near(ctx, id, act, got(false), got(true));
}

/** That she gets no less than an act says which eases her feed. */
export function no_less(ctx: Context, id: string, act: OnAct): boolean {
  return fed_by(ctx, id, { ...act, way: "up" });
}
