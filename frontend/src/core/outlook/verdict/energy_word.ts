import { asked_long, asks_score } from "./ask.ts";
import { feeder_says } from "../balance/at_feeder.ts";
import { div } from "../../base/ints.ts";
import { day_sums, enough_days, permille, window } from "../balance/balance.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { beyond_edge } from "./energy.ts";
import { answered, below_appetite, cleaned, in_danger } from "./feeder.ts";
import { fell_below } from "./held.ts";
import { milk_on } from "../feeding/needs.ts";
import { over_by, over_is_past, over_witness, type OverBy } from "./over.ts";
import { below_reach, by_score, clear_of, floor_on, floor_pm, score_says } from "../balance/reach.ts";
import type { NutrientLine } from "../ground/shapes.ts";
import { same_stage, stage } from "../feeding/stages.ts";
import { centred, energy_band } from "../balance/surety.ts";
import { observed, type Observed } from "./witness.ts";
import { SHORT_SAID_AHEAD_D, THREE_D, WEEK_D } from "../../tables/numbers.ts";

/** When her energy is worth a prompt, and what bears it out. The thresholds were fitted on simulated farms. */
export type EnergyWord = "" | "short" | "over" | "heading_short" | "heading_over" | "score_her";
export type ShortBy = Observed | "edge" | "sums" | "condition" | "feeder" | "less_feed" | "last_week" | "unscored";
export type By = ShortBy | OverBy;
type Ahead = NonNullable<NutrientLine["ahead"]>;
type Word = [word: EnergyWord, by: By];

/** A line that is short needs a witness besides the sums; without one an old score asks for a new one. */
export function energy_word(ctx: Context, id: string, line: NutrientLine): Word {
  const { st, ahead } = line;
  if (st === "unknown") return line.at_least ? ["", ""] : of_two_weeks(ctx, id);
  const over = over_now(ctx, id, line);
  const cut = ahead?.st === "short" ? ahead_word(ctx, id, ahead, st) : null;
  // what is planned already takes more than was too much
  if (over) return cut ?? ["over", over];
  const by = st === "short" && !fed_again(ctx, id) ? short_by(ctx, id, line) : "";
  if (by) return ["short", by];
  const heading = ahead && ahead_word(ctx, id, ahead, st);
  return heading ?? [asks_score(ctx, id) ? "score_her" : "", ""];
}

/** Too few days of the week are confirmed: two weeks together tell what is clear, and where it is open. */
function of_two_weeks(ctx: Context, id: string): Word {
  const both = window(ctx, id, WEEK_D + WEEK_D);
  if (same_stage(ctx, id) && both.days >= ctx.rule("confirmed_days")) {
    if (beyond_edge(ctx, id, energy_band(ctx, both)[1], both)) return ["short", edge(ctx, id)];
    if (below_reach(ctx, id, both, ctx.day) && cleaned(ctx, id) && !answered(ctx, id)) return ["short", "feeder"];
  }
  return [asks_score(ctx, id) ? "score_her" : "", ""];
}

/** Over and not near late; a milker where the band is clear of need. It stands until she is back at need. */
function over_now(ctx: Context, id: string, { st, pm, pm3, sure }: NutrientLine): OverBy {
  if (over_is_past(ctx, id, ctx.day) || st === "short" || eased(ctx, id, pm3)) return "";
  const week = window(ctx, id, WEEK_D);
  const by = over_by(ctx, id, week, pm, ctx.day);
  if (milk_on(ctx, id, ctx.day)) return sure ? by : "";
  return by || (centred(ctx, pm) > 1000 && was_over(ctx, id) ? over_witness(ctx, id, week, ctx.day) : "");
}

/** Somebody has eased her feed: over three days already it is clearly less than it was, and no longer over. */
function eased(ctx: Context, id: string, pm3: number): boolean {
  const [before, level] = [window(ctx, id, WEEK_D, WEEK_D), ctx.rule("level_pm")];
  if (!enough_days(ctx, before) || centred(ctx, pm3) > 1000 + level) return false;
  return pm3 * 1000 < permille(before.got.me, before.need.me) * (1000 - div(level, 2));
}

/** Somebody feeds her more: over three days already it is clearly more than it was, and all that she can eat to. */
function fed_again(ctx: Context, id: string): boolean {
  const [three, before] = [window(ctx, id, THREE_D), window(ctx, id, WEEK_D, THREE_D)];
  if (three.days < THREE_D || !enough_days(ctx, before)) return false;
  const [now, then] = [three, before].map((fed) => permille(fed.got.me, fed.need.me)) as [number, number];
  if (now * 1000 < then * (1000 + div(ctx.rule("level_pm"), 2))) return false;
  const floor = in_danger(ctx, id) ? 0 : floor_pm(ctx, id, three, ctx.day);
  return floor ? floor >= 1000 : centred(ctx, now) >= 1000 - ctx.rule("level_pm");
}

function was_over(ctx: Context, id: string): boolean {
  const [before, on] = [window(ctx, id, WEEK_D, WEEK_D), shift(ctx.day, -WEEK_D)];
  const pm = permille(before.got.me, before.need.me);
  return same_stage(ctx, id) && enough_days(ctx, before) && over_by(ctx, id, before, pm, on) !== "";
}

const edge = (ctx: Context, id: string) => (floor_on(ctx, id, ctx.day) ? "edge" : "sums");

/** What bears out a short week, the surest first. */
function short_by(ctx: Context, id: string, { hi, pm }: NutrientLine): ShortBy {
  const week = window(ctx, id, WEEK_D);
  if (beyond_edge(ctx, id, hi, week)) return edge(ctx, id);
  const seen = observed(ctx, id);
  if (seen) return seen;
  if (condition(ctx, id, pm)) return "condition";
  if (below_reach(ctx, id, week, ctx.day) && cleaned(ctx, id) && !answered(ctx, id)) return "feeder";
  if (fell_below(ctx, id)) return "less_feed";
  if (quarter_under(ctx, id, pm)) return "sums";
  if (was_below(ctx, id)) return "last_week";
  return asked_long(ctx, id) ? "unscored" : "";
}

/**
 * Her score fell or is low and she is clearly under need; late under her floor, and less before her than she would eat
 * or far under. Kidding takes flesh off every doe.
 */
function condition(ctx: Context, id: string, pm: number): boolean {
  if (score_says(ctx, id) !== "bad" || stage(ctx, id, ctx.day) === "fresh") return false;
  const week = window(ctx, id, WEEK_D);
  const floor = floor_pm(ctx, id, week, ctx.day);
  const [left, moves] = [feeder_says(ctx, id, ctx.day) === "left", by_score(ctx, id)];
  if (!floor || (in_danger(ctx, id) && !left)) {
    const least = left ? -moves : below_appetite(ctx, week) ? moves : 0;
    return (floor ? pm : centred(ctx, pm)) < clear_of(ctx, id, ctx.day) + least;
  }
  if (below_appetite(ctx, week) && !left) return floor < 1000 - ctx.rule_or_ours("late_clear_pm");
  return floor < 1000 - ctx.rule_or_ours("late_poor_pm");
}

/** A milker whom nobody has scored of late, a week long; not where hay is left, so that she ate what she would. */
function quarter_under(ctx: Context, id: string, pm: number): boolean {
  if (stage(ctx, id, ctx.day) !== "milk" || feeder_says(ctx, id, ctx.day) === "left") return false;
  return score_says(ctx, id) === "" && centred(ctx, pm) < 1000 - ctx.rule_or_ours("milk_quarter_pm");
}

/** The week before was short, and this one has hardly mended: a prompt does not flicker. */
function was_below(ctx: Context, id: string): boolean {
  const [week, before] = [window(ctx, id, WEEK_D), window(ctx, id, WEEK_D, WEEK_D)];
  if (!same_stage(ctx, id) || !enough_days(ctx, before) || answered(ctx, id)) return false;
  const then = below_reach(ctx, id, before, shift(ctx.day, -WEEK_D));
  return then && below_reach(ctx, id, week, ctx.day, ctx.rule_or_ours("short_again_pm"));
}

function ahead_word(ctx: Context, id: string, { st, on }: Ahead, now: NutrientLine["st"]): Word | null {
  if (st === "short") return days_between(ctx.day, on) <= SHORT_SAID_AHEAD_D ? ["heading_short", ""] : null;
  const sums = day_sums(ctx, id, shift(on, 1), true);
  if (now !== "level" || over_is_past(ctx, id, on) || sums === null) return null;
  return ["heading_over", over_witness(ctx, id, sums, on)];
}
