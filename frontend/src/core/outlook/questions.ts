import { ahead_of } from "./acts/forward.ts";
import { acts } from "./acts/search.ts";
import { changes_of, type ActLine } from "./acts/shapes.ts";
import { confirmed, day_sums, eaten_on, window } from "./balance/balance.ts";
import { branch_at, branch_name, slot_for, standing } from "./ground/branches.ts";
import { shift, type Context } from "./ground/context.ts";
import { doubts } from "./balance/doubts.ts";
import { evaluated } from "./whole/evaluate.ts";
import type { Change } from "./gates/change.ts";
import { found_between, gate } from "./gates/gates.ts";
import { reasons } from "./gates/reasons.ts";
import { rule_steps } from "./gates/rule_steps.ts";
import { herd_ate } from "./feeding/herd_ate.ts";
import { old_since } from "./feeding/measures.ts";
import { activity_pm, appetite_on, cold_pm, fcm_on, last_score, milk_on, need_on, regain_kj } from "./feeding/needs.ts";
import { clocks } from "./whole/clocks.ts";
import { prompt_at } from "./whole/in_time.ts";
import { close_up_plan } from "./plans/close_up.ts";
import { dry_plan } from "./plans/dry_off.ts";
import { fresh_plan } from "./plans/fresh.ts";
import { chances, type Chances, type Clock } from "./kidding/chance.ts";
import { watch_look, type WatchLook } from "./kidding/watch.ts";
import { kidding_of } from "./kidding/kidding.ts";
import { colostrum_ml_kg, kids_of } from "./kidding/newborn.ts";
import { next_step, raise_waiting, subject_lines } from "./feeding/plan.ts";
import { manger_line } from "./verdict/season.ts";
import { judged_by } from "./verdict/judged_by.ts";
import { rules_read } from "./ground/rules_read.ts";
import type { Nutrient, State } from "./ground/shapes.ts";
import { share_day, waste_pm } from "./feeding/sharing.ts";
import { energy_band } from "./balance/surety.ts";
import { feed_parts, need_terms, term_rules, told_day, week_days } from "./balance/terms.ts";
import { day_state, line_for } from "./verdict/verdicts.ts";
import { energy_word } from "./verdict/energy_word.ts";
import { AHEAD_D, WEEK_D } from "../tables/numbers.ts";
import { RANKS } from "../tables/prompts.ts";

/** What may be asked about a farm on a day, by name: its results, and what stands behind them, as plain values. */
const QUESTIONS = {
  results: evaluated,
  prompt_at: (ctx: Context, id: string, now_ms: number) => prompt_at(evaluated(ctx).does[id]!, now_ms),
  clocks,
  ranks: () => RANKS,
  feed: (ctx: Context, id: string) => ctx.feed(id),

  kids_at,
  chances_at,
  watch_at,
  standing,
  branch_at,
  branch_name: (ctx: Context, id: string) => branch_name(ctx.doe(id), ctx.outlooks[id]!),
  compiled_on,
  told_day,
  milk_on,
  fcm_on,
  appetite_on,
  last_score,
  witness: (ctx: Context, id: string) => energy_word(ctx, id, line_for(ctx, id, "me"))[1],

  need_on,
  need_terms,
  term_rules,
  judged_by,
  rules_of_results: (ctx: Context) => rules_read(ctx, evaluated),
  activity_pm,
  cold_pm,
  regain_kj: (ctx: Context, id: string, on: string) => {
    const slot = slot_for(ctx, id, on);
    return slot ? regain_kj(ctx, id, ...slot) : 0;
  },

  eaten_on,
  feed_parts,
  share_day,
  waste_pm,
  herd_ate,

  confirmed,
  day_sums,
  window,
  week_days,
  ahead_days,
  energy_band: (ctx: Context, id: string, days: number) => energy_band(ctx, window(ctx, id, days)),
  doubts,

  subject_lines,
  next_step,
  raise_waiting,
  old_since: (ctx: Context, feed: string) =>
    old_since(ctx.view, feed, ctx.day, ctx.rule_or_ours("weigh_again_d")),
  manger_line,

  gate,
  reasons,
  rule_steps,
  rules_of_gate: (ctx: Context, change: Change) => rules_read(ctx, (heard) => gate(heard, change)),
  acts,
  dry_plan,
  close_up_plan,
  fresh_plan,
  warned: (ctx: Context, lines: ActLine[]) => found_between(ctx, ahead_of(ctx, "", lines).planned, changes_of(lines)),
};

type Question = (ctx: Context, ...given: unknown[]) => unknown;

export function answer(ctx: Context, name: string, given: unknown[]): unknown {
  const asked = new Map(Object.entries(QUESTIONS)).get(name) as Question | undefined;
  if (!asked) throw new RangeError(`no question "${name}"; there are: ${Object.keys(QUESTIONS).join(", ")}`);
  return asked(ctx, ...given);
}

/** Every compiled number of the branch she is in, for one date; null outside what was compiled. */
function compiled_on(ctx: Context, id: string, on: string): Record<string, number> | null {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return null;
  const columns = Object.entries<number[]>({ ...slot[0] });
  return Object.fromEntries(columns.map(([column, days]) => [column, days[slot[1]]!]));
}

interface Ahead {
  need: number;
  got: number;
  st: State;
}

/** The planned days the look ahead goes through, with the state it gives each; null where nothing was compiled. */
function ahead_days(ctx: Context, id: string, key: Nutrient): [on: string, said: Ahead | null][] {
  const week = window(ctx, id, WEEK_D);
  return Array.from({ length: AHEAD_D }, (_, k) => shift(ctx.day, k + 1)).map((on) => {
    const sums = day_sums(ctx, id, on, true);
    return [on, sums && { need: sums.need[key], got: sums.got[key], st: day_state(ctx, id, key, sums, on, week) }];
  });
}

/** Each kid of her last kidding, and the first feed that may be spoken of. */
function kids_at(ctx: Context, id: string, now_ms: number): Record<string, unknown>[] {
  const kidding = kidding_of(ctx, id);
  const kids = kidding ? kids_of(ctx.doe(id), kidding) : [];
  return kids.map((kid) => ({ n: kid.n, state: kid.state, ml_kg: colostrum_ml_kg(kid, kidding!, now_ms) }));
}

/** How likely she kids in the hours ahead, and what each sign does to it; null where nothing can be said. */
function chances_at(ctx: Context, id: string, clock: Clock): Chances | null {
  const due = ctx.outlooks[id]?.due;
  return due && ctx.book.signs ? chances(ctx.doe(id), due, ctx.book.signs, clock) : null;
}

/** When somebody is to look at her again. */
function watch_at(ctx: Context, id: string, clock: Clock): WatchLook {
  return watch_look(ctx.doe(id), {
    due: ctx.outlooks[id]?.due ?? null, table: ctx.book.signs, unattended_h: ctx.rule_or_ours("unattended_h"), clock,
  });
}
