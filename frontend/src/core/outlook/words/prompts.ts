import { window } from "../balance/balance.ts";
import { answered_by_act } from "./answered.ts";
import { condition_word, thin_late_word, thinning_word } from "./condition_words.ts";
import type { Context } from "../ground/context.ts";
import { energy_prompt } from "../verdict/energy_said.ts";
import { feed_without_class, feed_without_energy } from "./feed_asked.ts";
import { forage_switch } from "./forage_switch.ts";
import { frozen_out_word } from "../ill/frozen_out.ts";
import { late_cut } from "../balance/grain.ts";
import { grain_said } from "./grain_said.ts";
import { kidding_early_word } from "../kidding/kidding_early.ts";
import { mineral_word } from "../balance/minerals.ts";
import { calcium_ahead, calcium_word, phosphorus_word, protein_word } from "./mineral_words.ts";
import { one_feed_word } from "../ill/one_feed.ts";
import { overdue_word } from "../kidding/overdue.ts";
import { jump_back_word, overload_word } from "../ill/overload.ts";
import { has_plan, raise_waiting } from "../feeding/plan.ts";
import { prolapse_word } from "../kidding/prolapse.ts";
import { risk_word } from "../ill/risk.ts";
import { steps_word } from "./steps_word.ts";
import type { Args, DoeResult, NutrientLine, Prompt, Said, Seen } from "../ground/shapes.ts";
import { STEPS_SAID_AHEAD_D, WEEK_D } from "../../tables/numbers.ts";
import { FIRST_OF_SUMS, RANKS, type PromptCode } from "../../tables/prompts.ts";
import { ca_p_word, forage_word, grain_share_word } from "./whole_diet.ts";

/**
 * One prompt per doe, the most serious first; a cause shared by a pen is said once.
 */
/** The prompt of lowest rank, or null when she is level and nothing is due. */
export function choose(ctx: Context, id: string, result: DoeResult): Prompt | null {
  return foremost(id, all(ctx, id, result));
}

/** What comes before everything that needs sums, or null where they decide. */
export function urgent(ctx: Context, id: string, seen: Seen): Prompt | null {
  const said = foremost(id, at_once(ctx, id, seen));
  return said && said.rank < FIRST_OF_SUMS ? said : null;
}

function foremost(id: string, words: (Said | null)[]): Prompt | null {
  let best: Said | null = null;
  for (const said of words) {
    if (said && (best === null || RANKS[said.code] < RANKS[best.code])) best = said;
  }
  return best && { code: best.code, rank: RANKS[best.code], subject: id, args: best.args, in_pen: false };
}

function at_once(ctx: Context, id: string, seen: Seen): (Said | null)[] {
  const { labour, off_feed, one_feed, first_days, checkup, doubled, down, standing, phase, due } = seen;
  // of equal rank the first is said, and a doe that is down hears one thing
  const first = [labour, prolapse_word(ctx, id), off_feed];
  if (down) return first;
  const looked = [...first, one_feed_word(one_feed), checkup, ...first_days];
  const always = [...looked, overload_word(ctx, id), mineral_word(ctx, doubled)];
  if (standing === "buck") return always;
  const dated = [kidding_early_word(ctx, id), frozen_out_word(ctx, id, phase), overdue_word(ctx, id, due)];
  return [...always, ...dated, standing === "ok" ? null : say(standing)];
}

/** Every word there is about her, whatever is said first. */
export function all(ctx: Context, id: string, result: DoeResult): (Said | null)[] {
  const { standing, down } = result;
  const first = at_once(ctx, id, result);
  // of equal rank the first is said
  return down || standing !== "ok" ? first : [...first, ...fed(ctx, id, result)];
}

/** What her feed and her body say of a doe that is up and well; not what an act in her plan answers. */
export function fed(ctx: Context, id: string, result: DoeResult): (Said | null)[] {
  return of_feed(ctx, id, result).filter((said) => said && !answered_by_act(ctx, id, result.on_acts, said));
}

function of_feed(ctx: Context, id: string, result: DoeResult): (Said | null)[] {
  return [
    jump_back_word(ctx, id), grain_said(ctx, id), grain_share_word(ctx, id), waits(ctx, id),
    late_cut(ctx, id, window(ctx, id, WEEK_D)), forage_switch(ctx, id),
    thinning_word(ctx, id, result), energy(ctx, id, result), thin_late_word(ctx, id, result), risk_word(result),
    forage_word(ctx, id), calcium_word(ctx, id, result), ca_p_word(ctx, id, result), calcium_ahead(ctx, id, result),
    fibre(result), condition_word(ctx, id, result), record_next(ctx, id, result.lines["me"]!), steps_word(ctx, id),
    protein_word(ctx, id, result), phosphorus_word(ctx, id, result),
  ];
}

function say(code: PromptCode, args: Args = {}): Said {
  return { code, args };
}

function energy(ctx: Context, id: string, result: DoeResult): Said | null {
  const said = energy_prompt(ctx, id, result);
  return said && WITH_CALCIUM.includes(said.code) && lacks_calcium(ctx, id, result)
    ? { ...said, args: { ...said.args, also: "calcium" } }
    : said;
}

/** What she lacks of calcium is said with these: legume before grain, and no score is waited for. */
const WITH_CALCIUM: readonly PromptCode[] = ["energy_short", "score_her"];

function lacks_calcium(ctx: Context, id: string, result: DoeResult): boolean {
  return result.lines["ca"]!.st === "short" || ca_p_word(ctx, id, result)?.code === "ca_p_low";
}

function fibre({ fibre: line }: DoeResult): Said | null {
  return line?.st === "low" ? say("fibre_low", { ndf_pm: line.ndf_pm }) : null;
}

function record_next(ctx: Context, id: string, { st, days }: NutrientLine): Said | null {
  const bag = feed_without_class(ctx, id);
  if (bag) return say("record_next", { what: "feed_class", feed: bag, days });
  if (st !== "unknown") return null;
  if (!ctx.doe(id).pen) return say("record_next", { what: "no_pen", days });
  const meals = has_plan(ctx, id, ctx.day) ? "meals" : "ration";
  const few = days < ctx.rule("confirmed_days");
  if (few) return all_confirmed(ctx, id) ? null : say("record_next", { what: meals, days });
  return say("record_next", { what: "feed_value", feed: feed_without_energy(ctx, id), days });
}

/** She has just kidded, and every feeding since then was put down: only days are wanting. */
function all_confirmed(ctx: Context, id: string): boolean {
  const { days, of } = window(ctx, id, WEEK_D);
  return has_plan(ctx, id, ctx.day) && of < WEEK_D && days === of;
}

/** A raise by a scoop or flake whose weight is old: it waits until somebody has weighed it again. */
function waits(ctx: Context, id: string): Said | null {
  const held = raise_waiting(ctx, id, STEPS_SAID_AHEAD_D);
  if (!held) return null;
  const [on, feed, now, then] = held;
  return say(on === ctx.day ? "raise_waits" : "raise_will_wait", { on, feed, now, then });
}
