import { div } from "../base/ints.ts";
import { enough_days, gestation_on, permille, window } from "./balance.ts";
import { days_between, shift, type Context } from "./context.ts";
import { clear_of, floor_on } from "./energy.ts";
import { closed, feeder_short, in_danger } from "./feeder.ts";
import { last_score, milk_on } from "./needs.ts";
import { over_by, over_is_past, over_witness, type OverBy } from "./over.ts";
import type { NutrientLine } from "./shapes.ts";
import { centred, energy_band } from "./surety.ts";
import { less_feed, observed, same_stage, witness, type Witness } from "./witness.ts";
import { SHORT_SAID_AHEAD_D, WEEK_D } from "../tables/numbers.ts";

/** When her energy is worth a prompt, and what bears it out. The thresholds were fitted on simulated farms. */
export type EnergyWord = "" | "short" | "over" | "heading_short" | "heading_over" | "score_her";
export type By = Witness | OverBy | "feeder" | "edge" | "sums" | "last_week";
type Ahead = NonNullable<NutrientLine["ahead"]>;

/** From the late day on a short line needs a witness besides the sums; without one an old score asks for a new one. */
export function energy_word(ctx: Context, id: string, line: NutrientLine): [word: EnergyWord, by: By] {
  const { st, ahead } = line;
  if (st === "unknown") return ["", ""];
  const over = over_now(ctx, id, line);
  if (over) return ["over", over];
  const by = st === "short" ? short_by(ctx, id, line) : "";
  if (by) return ["short", by];
  const [word, ahead_by] = ahead ? ahead_word(ctx, id, ahead, line) : (["", ""] as const);
  if (word) return [word, ahead_by];
  const asks = st === "short" || ahead?.st === "short";
  return [asks && score_her(ctx, id, ahead) ? "score_her" : "", ""];
}

/** Over and not near late; a milker where the band is clear of need. It stands until she is back at need. */
function over_now(ctx: Context, id: string, { st, pm, sure }: NutrientLine): OverBy {
  if (over_is_past(ctx, id, ctx.day) || st === "short") return "";
  const week = window(ctx, id, WEEK_D);
  const by = over_by(ctx, id, week, pm, ctx.day);
  if (milk_on(ctx, id, ctx.day)) return sure ? by : "";
  return by || (centred(ctx, pm) > 1000 && was_over(ctx, id) ? over_witness(ctx, id, week, ctx.day) : "");
}

function was_over(ctx: Context, id: string): boolean {
  const [before, on] = [window(ctx, id, WEEK_D, WEEK_D), shift(ctx.day, -WEEK_D)];
  const pm = permille(before.got.me, before.need.me);
  return same_stage(ctx, id) && enough_days(ctx, before) && over_by(ctx, id, before, pm, on) !== "";
}

/** What bears out a short week: its band wholly below need, something seen, less feed, or a week before as short. */
function short_by(ctx: Context, id: string, { hi }: NutrientLine): By {
  const [floor, week] = [floor_on(ctx, id, ctx.day), window(ctx, id, WEEK_D)];
  if (floor) {
    if (div(week.need.me, Math.max(1, week.days)) * hi < floor * 1000) return "edge";
    const clear = week.got.me * 1000 < floor * Math.max(1, week.days) * (1000 - ctx.rule_or_ours("late_clear_pm"));
    return witness(ctx, id, clear) || (clear && by_feeder(ctx, id) ? "feeder" : "");
  }
  const edge = clear_of(ctx, id, ctx.day);
  if (hi < edge) return "sums";
  return observed(ctx, id) || (hi < edge + ctx.rule_or_ours("short_again_pm") ? again(ctx, id, edge) : "");
}

/** She eats all there is and it is below the floor: nothing else need bear it out, but a fresh score may answer it. */
function by_feeder(ctx: Context, id: string): boolean {
  return feeder_short(ctx, id) && (in_danger(ctx, id) || !closed(ctx, id));
}

/** Less feed than the week before; or that week was short beyond doubt, so that a prompt does not flicker. */
function again(ctx: Context, id: string, edge: number): By {
  if (less_feed(ctx, id)) return "less_feed";
  const before = window(ctx, id, WEEK_D, WEEK_D);
  return same_stage(ctx, id) && enough_days(ctx, before) && energy_band(ctx, before)[1] < edge ? "last_week" : "";
}

function ahead_word(ctx: Context, id: string, { st, on }: Ahead, line: NutrientLine): [word: EnergyWord, by: By] {
  const late = gestation_on(ctx, id, on) >= ctx.rule("late_day");
  if (st === "over") return [line.st === "level" && !over_is_past(ctx, id, on) ? "heading_over" : "", ""];
  const by = witness(ctx, id);
  return days_between(ctx.day, on) <= SHORT_SAID_AHEAD_D && (by || !late) ? ["heading_short", by] : ["", ""];
}

/** Nobody has seen anything, and the last score is too old to tell. */
function score_her(ctx: Context, id: string, ahead: Ahead | null): boolean {
  const late = [ctx.day, ...(ahead ? [ahead.on] : [])].some((on) => gestation_on(ctx, id, on) >= ctx.rule("late_day"));
  const score = last_score(ctx, id);
  const old = score === null || score.age_d > ctx.rule(late ? "score_fresh_d" : "score_holds_d");
  return old && !witness(ctx, id);
}
