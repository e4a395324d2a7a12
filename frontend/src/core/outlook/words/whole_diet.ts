import type { PromptCode } from "../../tables/prompts.ts";
import { div } from "../../base/ints.ts";
import { add, enough_days, late_on, no_sums, window } from "../balance/balance.ts";
import type { Context } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { draws, feeder_mates, her_state, legume_of } from "../balance/her_state.ts";
import { milk_on } from "../feeding/needs.ts";
import type { DoeResult, Said, Sums, Window } from "../ground/shapes.ts";
import { own_calcium } from "../verdict/verdicts.ts";
import { ACT_FULL_PM, WEEK_D } from "../../tables/numbers.ts";

/** What holds for the whole of what she eats: calcium to phosphorus, least forage, most grain. */

/** Grain past its share of what she eats over the week, by the limits of her weight in and out of milk. */
export function grain_share_word(ctx: Context, id: string): Said | null {
  const week = known_week(ctx, id);
  if (week === null) return null;
  const share_pm = div(grain_dm(ctx, week) * 1000, week.dm);
  const limit_pm = grain_limit_pm(ctx, id);
  const late = late_on(ctx, id, ctx.day);
  return share_pm > limit_pm ? { code: "grain_share_big", args: { share_pm, limit_pm, late } } : null;
}

/** Forage under the least for her weight, or under what her appetite leaves room for beside her grain within limits. */
export function forage_word(ctx: Context, id: string): Said | null {
  const week = known_week(ctx, id);
  if (week === null) return null;
  const limit = least_forage_g(ctx, id, week, week.days);
  const g = div(week.forage_g, week.days);
  // who eats all she would of a full feeder is not short of it by a gram
  return g * 1000 < limit * ACT_FULL_PM ? { code: "forage_low", args: { g, limit, legume: legume_of(ctx, id) } } : null;
}

function least_forage_g(ctx: Context, id: string, sums: Sums, days: number): number {
  const eats_g = div(sums.appetite_g, days);
  const room_g = eats_g - Math.min(div(grain_dm(ctx, sums), days), div(eats_g * grain_limit_pm(ctx, id), 1000));
  const floor_g = div(ctx.outlooks[id]!.limits.forage_floor_g * ctx.rule_or_ours("forage_least_pm"), 1000);
  // her appetite is foretold: within so much she fills the room it leaves
  return room_g < floor_g ? div(room_g * (1000 - ctx.rule("level_pm")), 1000) : floor_g;
}

const WHOLE_WORDS = ["forage_low", "grain_share_big", "ca_p_low"] as const;
type WholeWord = (typeof WHOLE_WORDS)[number];

export const is_whole_word = (code: PromptCode): code is WholeWord => WHOLE_WORDS.some((each) => each === code);

/** Whether one day of the plan keeps what one of these words is about. */
export function keeps_whole(ctx: Context, id: string, code: WholeWord, sums: Sums): boolean {
  if (code === "forage_low") return sums.forage_g * 1000 >= least_forage_g(ctx, id, sums, 1) * ACT_FULL_PM;
  if (code === "ca_p_low") return sums.got.ca * 100 >= sums.got.p * ctx.rule_or_ours("ca_p_low_x100");
  return grain_dm(ctx, sums) * 1000 <= sums.dm * grain_limit_pm(ctx, id);
}

/** Calcium to phosphorus of what she, or whoever shares her feeder, ate: low where it is missed, high anywhere. */
export function ca_p_word(ctx: Context, id: string, { lines }: DoeResult): Said | null {
  const sums = lines["ca"]!.of === "pen" ? feeder_week(ctx, id) : known_week(ctx, id, true);
  if (sums === null || sums.got.p <= 0) return null;
  const { got, extra } = sums;
  const [low, high] = [div((got.ca + extra.ca) * 100, got.p), div(got.ca * 100, got.p + extra.p)];
  const [least, most] = [ctx.rule_or_ours("ca_p_low_x100"), ctx.rule_or_ours("ca_p_high_x100")];
  if (high > most) return { code: "ca_p_high", args: { ratio: high } };
  const state = her_state(ctx, id);
  if (low >= least || !draws(state)) return null;
  return { code: "ca_p_low", args: { ratio: low, least, state, legume: legume_of(ctx, id) } };
}

/** Her week where enough of it is confirmed and every feed in it has been described. */
function known_week(ctx: Context, id: string, blank_will_do = false): Window | null {
  const week = window(ctx, id, WEEK_D);
  const described = blank_will_do || Object.keys(week.dm_by).every((feed) => ctx.feed(feed)?.dm_pm);
  return enough_days(ctx, week) && week.dm > 0 && described ? week : null;
}

function feeder_week(ctx: Context, id: string): Sums | null {
  const weeks = feeder_mates(ctx, id).map((mate) => [mate, window(ctx, mate, WEEK_D)] as const)
    .filter(([mate, week]) => enough_days(ctx, week) && !own_calcium(ctx, mate, week));
  const total = no_sums();
  for (const [, week] of weeks) add(total, week);
  return weeks.length ? total : null;
}

function grain_dm(ctx: Context, { dm_by }: Sums): number {
  return Object.entries(dm_by).reduce((all, [feed, g]) => all + (is_grain(ctx.feed(feed)) ? g : 0), 0);
}

function grain_limit_pm(ctx: Context, id: string): number {
  const { limits } = ctx.outlooks[id]!;
  const share_pm = milk_on(ctx, id, ctx.day) > 0 ? limits.milk_grain_day_pm : limits.grain_day_pm;
  return div(share_pm * ctx.rule_or_ours("grain_most_pm"), 1000);
}
