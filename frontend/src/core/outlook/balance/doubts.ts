import { div, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { confirmed, part_of, window } from "./balance.ts";
import { slot_for } from "../ground/branches.ts";
import type { Context } from "../ground/context.ts";
import { fcm_on, milk_weighed, score_sd_kj } from "../feeding/needs.ts";
import type { Who } from "../ground/documents.ts";
import type { Window } from "../ground/shapes.ts";
import { feed_sd_pm } from "./surety.ts";
import { days_back } from "./terms.ts";
import type { RuleName } from "../../tables/rules.ts";
import { FEED_TESTED_SD_PM, WEEK_D } from "../../tables/numbers.ts";

/** What the 80 % band of energy is made of, and what a record would take away. */
const FINE = 100_000;

export interface Doubt {
  of: string;
  feed: string;
  /** Share of the variance of supply over need, permille; and how much of it the act would remove. */
  pm: number;
  act: string;
  removes_pm: number;
}
/** Size now, the act that shrinks it, and size then, as one standard deviation [kJ]. */
type Part = [of: string, feed: string, now: number, act: string, then: number];

export function doubts(ctx: Context, id: string): Doubt[] {
  const week = window(ctx, id, WEEK_D);
  const [got, need] = [week.got.me, week.need.me];
  if (got <= 0 || need <= 0) return [];
  const of_supply = supply(ctx, week).map((part): [Part, number, number] => [
    part, square(part[2], got), square(part[4], got),
  ]);
  const all = [...of_supply, ...need_squares(ctx, id, week, need)];
  const total = sum(all.map(([, size]) => size));
  if (!total) return [];
  const rows = all.map(([[of, feed, , act], size, left]) => ({
    of, feed, pm: div(size * 1000, total), act, removes_pm: div((size - left) * 1000, total),
  }));
  return rows.filter(({ pm }) => pm).sort(order);
}

function order(a: Doubt, b: Doubt): number {
  return b.removes_pm - a.removes_pm || b.pm - a.pm || compareText(a.of, b.of) || compareText(a.feed, b.feed);
}

function square(part: number, whole: number): number {
  return div(part * FINE, whole) ** 2;
}

function supply(ctx: Context, week: Window): Part[] {
  const shared = div((week.got.me - week.own_me) * ctx.rule("waste_share_sd_pm"), 1000);
  const feeds = Object.entries(week.dm_by).map(([feed, g]): Part => {
    const [kj, sd_pm] = [part_of(ctx, feed, "me", g), feed_sd_pm(ctx, feed)];
    const tested = Math.min(sd_pm, FEED_TESTED_SD_PM);
    return ["feed", feed, div(kj * sd_pm, 1000), tested < sd_pm ? "test_feed" : "", div(kj * tested, 1000)];
  });
  const amounts = div(week.got.me * ctx.rule("amount_sd_pm"), 1000);
  return [["feeder", "", shared, "", shared], ["amounts", "", amounts, "", amounts], ...feeds];
}

/** Her own doubts add up day by day in the band; the whole is shared out here by the square of each. */
function need_squares(ctx: Context, id: string, week: Window, need: number): [Part, number, number][] {
  const parts = of_need(ctx, id);
  const whole = sum(parts.map(([, , now]) => now * now));
  if (!whole) return [];
  const each = div(square(week.need_sd, need), 1000);
  return parts.map((part) => {
    const [, , now, , then] = part;
    const size = div(now * now * 1000, whole) * each;
    return [part, size, Math.min(size, div(then * then * 1000, whole) * each)];
  });
}

function of_need(ctx: Context, id: string): Part[] {
  const who = ctx.outlooks[id]!.who ?? { size: "", mass_from: "" as const, litter_from: "" };
  const [maint, preg, milk] = week_energy(ctx, id);
  const sd = (kj: number, rule: RuleName) => div(kj * ctx.rule(rule), 1000);
  const [mass, scale] = [ctx.rule(mass_rule(who)), ctx.rule("mass_scale_sd_pm")];
  const counted = who.litter_from === "scan";
  const scan = !counted && ctx.rule("litter_scan_sd_pm") < ctx.rule("litter_prior_sd_pm");
  const near = milk_weighed(ctx, id, ctx.day);
  const weigh_milk = !near && ctx.rule("milk_weighed_sd_pm") < ctx.rule("milk_expected_sd_pm");
  // maintenance goes with weight to the power 3/4, so weight counts by it
  const by_weight = (sd_pm: number) => div(maint * sd_pm * 3, 4000);
  const [alive, kid] = [sd(maint, "maintenance_sd_pm"), sd(preg, "kid_weight_sd_pm")];
  const [conceptus, of_score] = [sd(preg, "conceptus_sd_pm"), week_score(ctx, id)];
  const litter = (seen: boolean) => sd(preg, seen ? "litter_scan_sd_pm" : "litter_prior_sd_pm");
  const of_milk = (seen: boolean) => sd(milk, seen ? "milk_weighed_sd_pm" : "milk_expected_sd_pm");
  return [
    ["maintenance", "", alive, "", alive],
    ["weight", "", by_weight(mass), scale < mass ? "weigh" : "", by_weight(Math.min(mass, scale))],
    ["kid_weight", "", kid, "", kid],
    ["conceptus", "", conceptus, "", conceptus],
    ["score", "", of_score, "", of_score],
    ["litter", "", litter(counted), scan ? "scan" : "", litter(counted || scan)],
    ["milk", "", of_milk(near), weigh_milk ? "weigh_milk" : "", of_milk(near || weigh_milk)],
  ];
}

/** What the scorer's hand may be off over the days that counted [kJ]; nothing while she is not fed to regain. */
function week_score(ctx: Context, id: string): number {
  const slot = slot_for(ctx, id, ctx.day);
  return slot ? score_sd_kj(ctx, id, ...slot) * window(ctx, id, WEEK_D).days : 0;
}

/** The herd rule that says how far her weight may be off, by how it is known. */
function mass_rule({ mass_from, size }: { mass_from: Who["mass_from"] | ""; size: string }): RuleName {
  return mass_from === "tape" && size === "mini" ? "mass_tape_mini_sd_pm" : `mass_${mass_from || "class"}_sd_pm`;
}

/** Energy of maintenance, litter and milk over the days that counted [kJ]. */
function week_energy(ctx: Context, id: string): [maint: number, preg: number, milk: number] {
  const per = ctx.outlooks[id]!.drivers.me_kj_per_kg_fcm;
  let [maint, preg, milk] = [0, 0, 0];
  for (const on of days_back(ctx, id)) {
    const slot = slot_for(ctx, id, on);
    if (slot === null || !confirmed(ctx, id, on)) continue;
    maint += slot[0].maint_kj[slot[1]]!;
    preg += slot[0].preg_me_kj[slot[1]]!;
    milk += div(fcm_on(ctx, id, on) * per, 1000);
  }
  return [maint, preg, milk];
}
