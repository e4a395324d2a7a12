import { div } from "../../base/ints.ts";
import { confirmed, day_sums, eaten_on, supply } from "./balance.ts";
import { slot_for } from "../ground/branches.ts";
import { shift, type Context } from "../ground/context.ts";
import { activity_pm, cold_pm, fcm_on, milk_on, regain_kj } from "../feeding/needs.ts";
import { rules_read } from "../ground/rules_read.ts";
import type { BranchDay, Nutrient } from "../ground/shapes.ts";
import { WEEK_D } from "../../tables/numbers.ts";

/** The parts that make a need, a supply and a week, so that a person can follow them. */
export const CONTENT = { me: "me_kj_kg", cp: "cp_eq_ug_g", ca: "ca_ug_g", p: "p_ug_g" } as const;

export interface Term {
  code: string;
  value: number;
}
export interface FeedPart {
  feed: string;
  dm_g: number;
  own_g: number;
  content: number | null;
  value: number;
}
export interface WeekDay {
  on: string;
  need: number;
  got: number;
  counts: boolean;
}

/** The last confirmed day of the week, else today along the plan. */
export function told_day(ctx: Context, id: string): [on: string, planned: boolean] {
  for (let back = 0; back <= WEEK_D; back++) {
    const on = shift(ctx.day, -back);
    if (confirmed(ctx, id, on) && slot_for(ctx, id, on)) return [on, false];
  }
  return [ctx.day, true];
}

/** In kJ or mg; they add up to need_on exactly. Parts of nothing are left out, but the first. */
export function need_terms(ctx: Context, id: string, on: string, nutrient: Nutrient, dm_g: number): Term[] {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return [];
  const parts = nutrient === "me" ? energy(ctx, id, on, slot) : other(ctx, id, on, slot, nutrient, dm_g);
  return parts.map(([code, work]) => ({ code, value: work() })).filter(({ value }, k) => value || k === 0);
}

/** Herd rules read for one part of a need on the phone, beside those it was compiled with. */
export function term_rules(ctx: Context, id: string, on: string, nutrient: Nutrient, code: string): string[] {
  return rules_read(ctx, (heard) => {
    const slot = slot_for(heard, id, on);
    if (slot === null) return;
    const parts = nutrient === "me" ? energy(heard, id, on, slot) : other(heard, id, on, slot, nutrient, 0);
    parts.find(([named]) => named === code)?.[1]();
  });
}

type Part = [code: string, work: () => number];

function energy(ctx: Context, id: string, on: string, [branch, i]: BranchDay): Part[] {
  const [pregnancy, growth, alive] = [branch.preg_me_kj[i]!, branch.growth_kj[i]!, branch.maint_kj[i]!];
  const ground = () => div(alive * activity_pm(ctx, id, on), 1000);
  return [
    // what is left, so that the rounding of each compiled part lies here and the sum stays whole
    ["maintenance", () => branch.me_kj[i]! - pregnancy - growth],
    ["ground", ground],
    ["cold", () => div(alive * (activity_pm(ctx, id, on) + cold_pm(ctx, on)), 1000) - ground()],
    ["pregnancy", () => pregnancy],
    ["milk", () => div(fcm_on(ctx, id, on) * ctx.outlooks[id]!.drivers.me_kj_per_kg_fcm, 1000)],
    ["growth", () => growth],
    ["regain", () => regain_kj(ctx, id, branch, i)],
  ];
}

function other(
  ctx: Context, id: string, on: string, [branch, i]: BranchDay, key: "cp" | "ca" | "p", dm_g: number,
): Part[] {
  const { drivers } = ctx.outlooks[id]!;
  const pregnancy = branch[`preg_${key}_mg`][i]!;
  return [
    ["body", () => branch[`${key}_mg`][i]! - pregnancy],
    ["pregnancy", () => pregnancy],
    ["milk", () => div(milk_on(ctx, id, on) * drivers[`${key}_mg_per_kg_milk`], 1000)],
    ["intake", () => div(dm_g * drivers[`${key}_mg_per_kg_dm`], 1000)],
  ];
}

/** Content per kg or per g as in the book, null where unknown. */
export function feed_parts(ctx: Context, id: string, on: string, planned: boolean, nutrient: Nutrient): FeedPart[] {
  const eaten = eaten_on(ctx, id, on, planned);
  return Object.entries(eaten.dm).map(([feed, dm_g]) => ({
    feed, dm_g, own_g: eaten.own[feed] ?? 0, content: ctx.feed(feed)?.[CONTENT[nutrient]] ?? null,
    value: supply(ctx, { [feed]: dm_g }).got[nutrient],
  }));
}

/** The days the week looks at, oldest first; only confirmed ones count. */
export function week_days(ctx: Context, id: string, nutrient: Nutrient): WeekDay[] {
  return days_back(ctx, id).flatMap((on) => {
    const sums = day_sums(ctx, id, on, false);
    return sums ? [{ on, need: sums.need[nutrient], got: sums.got[nutrient], counts: confirmed(ctx, id, on) }] : [];
  });
}

/** The week up to the last day that counts, none before she last kidded. */
export function days_back(ctx: Context, id: string): string[] {
  const last = confirmed(ctx, id, ctx.day) ? ctx.day : shift(ctx.day, -1);
  const { kidded } = ctx.doe(id);
  return Array.from({ length: WEEK_D }, (_, k) => shift(last, k - WEEK_D + 1)).filter(
    (on) => !kidded || on >= kidded.on,
  );
}
