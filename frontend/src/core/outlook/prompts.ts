import { window } from "./balance.ts";
import { days_between, type Context } from "./context.ts";
import { energy_word } from "./energy_word.ts";
import { feed_without_class, feed_without_energy } from "./feed_asked.ts";
import { frozen_out_word } from "./frozen_out.ts";
import { grain_word, late_cut } from "./grain.ts";
import { mineral_word } from "./minerals.ts";
import { last_score } from "./needs.ts";
import { jump_back_word, overload_word } from "./overload.ts";
import { has_plan, next_step, raise_waiting } from "./plan.ts";
import { risk_word } from "./risk.ts";
import type { Args, DoeResult, NutrientLine, Prompt, Said, Seen } from "./shapes.ts";
import { LANE } from "../tables/codes.ts";
import { STEPS_SAID_AHEAD_D, WEEK_D } from "../tables/numbers.ts";
import { FIRST_OF_SUMS, OF_PEN, RANKS, type PromptCode } from "../tables/prompts.ts";

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

function at_once(
  ctx: Context, id: string, { off_feed, checkup, doubled, down, standing, phase }: Seen,
): (Said | null)[] {
  const always = [off_feed, checkup, overload_word(ctx, id), mineral_word(ctx, doubled)];
  // nothing is fed to a doe that is down, so no amount is spoken of
  if (down || standing === "buck") return always;
  return [...always, frozen_out_word(ctx, id, phase), standing === "ok" ? null : say(standing)];
}

function all(ctx: Context, id: string, result: DoeResult): (Said | null)[] {
  const { lines, standing, down } = result;
  const first = at_once(ctx, id, result);
  if (down || standing !== "ok") return first;
  return [
    ...first, jump_back_word(ctx, id), grain_word(ctx, id), waits(ctx, id), late_cut(ctx, id, window(ctx, id, WEEK_D)),
    energy(ctx, id, lines["me"]!),
    // of equal rank the first is said
    risk_word(result), calcium(lines["ca"]!), protein(ctx, result), fibre(result), condition(ctx, id, result),
    record_next(ctx, id, lines["me"]!), steps(ctx, id),
  ];
}

function say(code: PromptCode, args: Args = {}): Said {
  return { code, args };
}

function energy(ctx: Context, id: string, line: NutrientLine): Said | null {
  const [word, by] = energy_word(ctx, id, line);
  if (!word) return null;
  if (word === "score_her") {
    const score = last_score(ctx, id);
    return say(word, { age_d: score ? score.age_d : -1, x100: score ? score.x100 : 0 });
  }
  return say(`energy_${word}`, { pm: line.pm, on: line.ahead ? line.ahead.on : ctx.day, witness: by });
}

function calcium({ st, pm, ahead }: NutrientLine): Said | null {
  if (st === "short" || st === "over") return say(`calcium_${st}`, { pm });
  return ahead && st === "level" ? say(`calcium_heading_${ahead.st}`, { on: ahead.on }) : null;
}

function protein(ctx: Context, { lines, lane, gest }: DoeResult): Said | null {
  const line = lines["cp"]!;
  const late = gest >= ctx.rule("late_day");
  // late and no shorter than her energy, it is her appetite that falls, not the feed that is poor
  if (late && line.pm >= lines["me"]!.pm) return null;
  const matters = late || lane === LANE.in_milk || lane === LANE.first_freshener;
  return matters && line.st === "short" ? say("protein_short", { pm: line.pm }) : null;
}

function fibre({ fibre: line }: DoeResult): Said | null {
  return line?.st === "low" ? say("fibre_low", { ndf_pm: line.ndf_pm }) : null;
}

function condition(ctx: Context, id: string, { band, gest }: DoeResult): Said | null {
  const score = last_score(ctx, id);
  if (score === null || score.age_d > ctx.rule("score_holds_d") || band.length === 0) return null;
  const [low, high] = band as [number, number];
  const { x100 } = score;
  if (x100 <= low - ctx.rule("band_slack_x100")) return say("condition_thin", { x100, low });
  if (x100 < high + ctx.rule("band_slack_x100")) return null;
  return say("condition_fat", { x100, high, late: gest >= ctx.rule("late_day") });
}

function record_next(ctx: Context, id: string, { st, days }: NutrientLine): Said | null {
  const bag = feed_without_class(ctx, id);
  if (bag) return say("record_next", { what: "feed_class", feed: bag, days });
  if (st !== "unknown") return null;
  if (!ctx.doe(id).pen) return say("record_next", { what: "no_pen", days });
  const meals = has_plan(ctx, id, ctx.day) ? "meals" : "ration";
  if (days < ctx.rule("confirmed_days")) return say("record_next", { what: meals, days });
  return say("record_next", { what: "feed_value", feed: feed_without_energy(ctx, id), days });
}

/** A raise by a scoop or flake whose weight is old: it waits until somebody has weighed it again. */
function waits(ctx: Context, id: string): Said | null {
  const held = raise_waiting(ctx, id, STEPS_SAID_AHEAD_D);
  if (!held) return null;
  const [on, feed, now, then] = held;
  return say(on === ctx.day ? "raise_waits" : "raise_will_wait", { on, feed, now, then });
}

function steps(ctx: Context, id: string): Said | null {
  const step = next_step(ctx, id, STEPS_SAID_AHEAD_D);
  if (step) return say("steps_ahead", { on: step[0], feed: step[1], now: step[2], then: step[3], rule: false });
  const due = ctx.outlooks[id]!.steps.find(({ on }) => {
    const days = days_between(ctx.day, on);
    return days >= 0 && days <= STEPS_SAID_AHEAD_D;
  });
  const planned = (ctx.plans.get(id) ?? []).some((ration) => ration.steps.at(-1)![0] > ctx.day);
  if (!due || !ctx.doe(id).bred || planned) return null;
  return say("steps_ahead", { on: due.on, feed: "", now: 0, then: due.g, rule: true });
}

/** A code that most of a pen's does share becomes the pen's, and theirs are marked as said. */
export function pen_prompt(ctx: Context, pen: string, does: Record<string, DoeResult>): Prompt | null {
  const mates = ctx.pen_mates(pen, ctx.day).filter((id) => does[id] !== undefined);
  for (const code of OF_PEN) {
    const same = mates.filter((id) => does[id]!.prompt?.code === code);
    if (same.length < 2 || same.length * 1000 < mates.length * ctx.rule("pen_shared_pm")) continue;
    const args = { ...does[same[0]!]!.prompt!.args, does: same };
    for (const id of same) does[id]!.prompt = { ...does[id]!.prompt!, in_pen: true };
    return { code, rank: RANKS[code], subject: pen, args, in_pen: true };
  }
  return null;
}
