import { div, sum } from "../../base/ints.ts";
import { FEWEST_DAYS, WEEK_D } from "../../tables/numbers.ts";
import { pen_on } from "../../state/where.ts";
import { number_of, NUTRIENTS, per_nutrient, shift, SLOTS, type Context } from "../ground/context.ts";
import { appetite_on, need_on, need_sd_on } from "../feeding/needs.ts";
import { planned_slots } from "../feeding/plan.ts";
import type { Eaten, Fed, Nutrient, PerNutrient, Sums, Window } from "../ground/shapes.ts";
import { gestation_on } from "../ground/branches.ts";
import { is_forage } from "../ground/feed_classes.ts";
import { nothing, share_day } from "../feeding/sharing.ts";

/** Supply against need: what was eaten on a day, whether it is confirmed, and sums. */
/** Protein counts at the share that is used when a fifth escapes the rumen: CP x (0.64 + 0.16 x share) / 0.672. */
type Column = "me_kj_kg" | "cp_eq_ug_g" | "ca_ug_g" | "p_ug_g";
const COMPOSITION: Record<Nutrient, Column> = { me: "me_kj_kg", cp: "cp_eq_ug_g", ca: "ca_ug_g", p: "p_ug_g" };
const PER = 1000;

export function eaten_on(ctx: Context, id: string, on: string, planned = false): Eaten {
  const pen = pen_on(ctx.doe(id), on) || id;
  return share_day(ctx, pen, on, planned)[id] ?? nothing();
}

/** Every planned slot has a feeding that reached her; with no plan, every slot she is usually fed in. */
export function confirmed(ctx: Context, id: string, on: string): boolean {
  return ctx.memo.confirmed.once(id, on, () => {
    const { slots } = eaten_on(ctx, id, on);
    const planned = planned_slots(ctx, id, on);
    const wanted = planned.length ? planned : usual_slots(ctx, id, on);
    return slots.length > 0 && wanted.every((slot) => slots.includes(slot));
  });
}

/** On more than half of the days of the week before on which she was fed at all. */
function usual_slots(ctx: Context, id: string, on: string): string[] {
  const days = Array.from({ length: WEEK_D }, (_, k) => eaten_on(ctx, id, shift(on, -1 - k)).slots);
  const fed = days.filter((slots) => slots.length > 0);
  return SLOTS.filter((slot) => fed.filter((slots) => slots.includes(slot)).length * 2 > fed.length);
}

/** One day's got, need, possible extra from unknown composition, own share and dry matter; null without a need. */
export function day_sums(ctx: Context, id: string, on: string, planned: boolean): Fed | null {
  return ctx.memo[planned ? "planned_sums" : "sums"].once(id, on, () => find_sums(ctx, id, on, planned));
}

function find_sums(ctx: Context, id: string, on: string, planned: boolean): Fed | null {
  const eaten = eaten_on(ctx, id, on, planned);
  const dm = sum(Object.values(eaten.dm));
  const need = need_on(ctx, id, on, dm);
  if (need === null) return null;
  const { got, extra } = supply_of(ctx, eaten);
  const [offered_me, own_me] = [energy(ctx, eaten.offered), energy(ctx, eaten.own)];
  const dm_by: Sums["dm_by"] = {};
  for (const feed of Object.keys(eaten.dm)) {
    if (eaten.dm[feed]! > 0 || eaten.unweighed[feed]) dm_by[feed] = eaten.dm[feed]!;
  }
  const own = sum(Object.values(eaten.own));
  const [need_sd, appetite_g] = [need_sd_on(ctx, id, on), appetite_on(ctx, id, on)];
  const { ndf_g, forage_g } = fibre_of(ctx, eaten.dm);
  return {
    days: 1, need, got, extra, dm, own, offered_me, own_me, need_sd, appetite_g, dm_by, ndf_g, forage_g,
  };
}

/** What `supply` gives as energy, without the rest. */
function energy(ctx: Context, dm: Record<string, number>): number {
  let kj = 0;
  for (const feed of Object.keys(dm)) kj += part_of(ctx, feed, "me", dm[feed]!);
  return kj;
}

/** kJ or mg of one nutrient in grams of a feed's dry matter; 0 where the feed has no value. */
export function part_of(ctx: Context, feed: string, key: Nutrient, g: number): number {
  return div(g * (ctx.feed(feed)?.[COMPOSITION[key]] ?? 0), PER);
}

/** Grams of fibre (NDF), where unknown at the most it could be, and grams of forage, in dry matter eaten. */
function fibre_of(ctx: Context, dm: Record<string, number>): { ndf_g: number; forage_g: number } {
  let [ndf_g, forage_g] = [0, 0];
  for (const feed_id of Object.keys(dm)) {
    const [feed, g] = [ctx.feed(feed_id), dm[feed_id]!];
    ndf_g += div(g * (feed?.ndf_pm ?? ctx.rule("unknown_max_ndf_pm")), PER);
    if (is_forage(feed)) forage_g += g;
  }
  return { ndf_g, forage_g };
}

/** Nutrients in dry matter eaten (kJ, mg), and the most that feeds of unknown composition could add. */
export function supply(ctx: Context, dm: Record<string, number>): { got: PerNutrient; extra: PerNutrient } {
  const [got, extra] = [per_nutrient(), per_nutrient()];
  for (const feed_id of Object.keys(dm)) {
    const [feed, g] = [ctx.feed(feed_id), dm[feed_id]!];
    for (const key of NUTRIENTS) {
      const column = COMPOSITION[key];
      const value = feed?.[column] ?? null;
      if (value === null) extra[key] += div(g * ctx.rule(`unknown_max_${column}`), PER);
      else got[key] += div(g * value, PER);
    }
  }
  return { got, extra };
}

/** The same of a day, with what was fed of feeds whose dry matter nobody knows. */
export function supply_of(ctx: Context, { dm, unweighed }: Eaten): { got: PerNutrient; extra: PerNutrient } {
  const found = supply(ctx, dm);
  add_unweighed(ctx, unweighed, found.extra);
  return found;
}

/** The most that feeds of unknown dry matter could add: as dry as any, and as rich as theirs where that is known. */
function add_unweighed(ctx: Context, unweighed: Record<string, number>, extra: PerNutrient): void {
  for (const [feed_id, g] of Object.entries(unweighed)) {
    const dry = div(g * ctx.rule_or_ours("unknown_max_dm_pm"), PER);
    for (const key of NUTRIENTS) {
      const most = ctx.feed(feed_id)?.[COMPOSITION[key]] ?? ctx.rule(`unknown_max_${COMPOSITION[key]}`);
      extra[key] += div(dry * most, PER);
    }
  }
}

/** How many of the feeds eaten have no value for a nutrient, or no dry matter to hold it against. */
export function blank_feeds(ctx: Context, { dm_by }: Sums, key: Nutrient): number {
  return Object.keys(dm_by).filter((id) => is_blank(ctx, id, key)).length;
}

export function is_blank(ctx: Context, id: string, key: Nutrient): boolean {
  const feed = ctx.feed(id);
  return !feed?.dm_pm || feed[COMPOSITION[key]] === null;
}

/** Sums over her last days, or over as many before the last `skip`; worked once, whichever day asks. */
export function window(ctx: Context, id: string, days: number, skip = 0): Window {
  return ctx.memo.windows.once(id, skip * PER + days, () => {
    const last = shift(confirmed(ctx, id, ctx.day) ? ctx.day : shift(ctx.day, -1), -skip);
    return ctx.memo.spans.once(id, span_key(last, days), () => find_window(ctx, id, days, last));
  });
}

/** So many days up to one, in the order of their last day. */
export const span_key = (last: string, days: number): number => number_of(last) * PER + days;

/** The confirmed days among those asked for (today counts once confirmed), none before she last kidded. */
function find_window(ctx: Context, id: string, days: number, last: string): Window {
  const { kidded } = ctx.doe(id);
  const total: Window = { days: 0, of: 0, ...no_sums() };
  for (let back = 0; back < days; back++) {
    const on = shift(last, -back);
    if (kidded && on < kidded.on) break;
    total.of += 1;
    const sums = confirmed(ctx, id, on) ? day_sums(ctx, id, on, false) : null;
    if (sums === null) continue;
    total.days += 1;
    add(total, sums);
  }
  return total;
}

export function no_sums(): Sums {
  return {
    dm: 0, own: 0, offered_me: 0, own_me: 0, need_sd: 0, appetite_g: 0, ndf_g: 0, forage_g: 0, dm_by: {},
    need: per_nutrient(), got: per_nutrient(), extra: per_nutrient(),
  };
}

/** Add one day (or one doe) to a running total: many thousand times where an act is tried, so key by key. */
export function add(total: Sums, sums: Sums): void {
  total.dm += sums.dm;
  total.own += sums.own;
  total.offered_me += sums.offered_me;
  total.own_me += sums.own_me;
  total.need_sd += sums.need_sd;
  total.appetite_g += sums.appetite_g;
  total.ndf_g += sums.ndf_g;
  total.forage_g += sums.forage_g;
  for (const feed of Object.keys(sums.dm_by)) total.dm_by[feed] = (total.dm_by[feed] ?? 0) + sums.dm_by[feed]!;
  add_each(total.need, sums.need);
  add_each(total.got, sums.got);
  add_each(total.extra, sums.extra);
}

function add_each(total: PerNutrient, more: PerNutrient): void {
  total.me += more.me;
  total.cp += more.cp;
  total.ca += more.ca;
  total.p += more.p;
}

/** Supply per thousand of need; level when nothing is needed. */
export function permille(got: number, need: number): number {
  return need > 0 ? div(got * 1000, need) : 1000;
}

/** Enough confirmed days for a verdict: the herd rule's number of seven, fewer only where fewer days exist. */
export function enough_days(ctx: Context, total: Window): boolean {
  return total.days >= Math.min(ctx.rule("confirmed_days"), Math.max(FEWEST_DAYS, total.of));
}

/** Whether she is in late pregnancy on a date. */
export function late_on(ctx: Context, id: string, on: string): boolean {
  return gestation_on(ctx, id, on) >= ctx.rule("late_day");
}
