import { div, sum } from "../../base/ints.ts";
import { day_sums, eaten_on, late_on } from "../balance/balance.ts";
import { pen_on } from "../../state/where.ts";
import { shift, type Context } from "../ground/context.ts";
import { is_forage } from "../ground/feed_classes.ts";
import type { Sums } from "../ground/shapes.ts";
import { milk_on } from "../feeding/needs.ts";
import {
  ACT_FORAGE_PM, ACT_LIMIT_PM, ACT_ROUNDED, ACT_SLIM_D, ACT_SLIM_X100, ACT_SWITCH_FIRST_PM,
} from "../../tables/numbers.ts";

/** How far a planned day lies past each limit, or nearer to it than an act goes; 0 where it is kept. */
export type Past = Record<"meal" | "day" | "share" | "forage" | "before" | "ca_p" | "full", number>;

const { weight, ratio, guessed } = ACT_LIMIT_PM;

/** The farm's limits on grain, forage and minerals for one doe on one day of the plan. */
export function past_limits(ctx: Context, id: string, on: string): Past | null {
  const [sums, { limits, assumed }] = [day_sums(ctx, id, on, true), ctx.outlooks[id]!];
  if (sums === null) return null;
  const { meal_g, day_g, own } = eaten_on(ctx, id, on, true);
  const milks = milk_on(ctx, id, on) > 0;
  // of a doe nobody weighed nobody knows how much hay she eats beside her grain; late, of nobody how her appetite falls
  const near = assumed.includes("mass_by_class") ? guessed : ratio;
  // a tape is off by a tenth and more
  const by_weight = near === guessed || assumed.includes("mass_by_tape") ? guessed : weight;
  const most_pm = div((milks ? limits.milk_grain_day_pm : limits.grain_day_pm) * near, 1000);
  const share_pm = late_on(ctx, id, on) ? div(most_pm * near, 1000) : most_pm;
  // nobody tested the hay for it
  const surely_ca = div(sums.got.ca * guessed, 1000);
  const [grain_g, hay_g] = [sums.dm - sums.forage_g, hay_beside(sums)];
  return {
    meal: beyond(meal_g, div(limits.grain_meal_g * by_weight, 1000)),
    day: beyond(day_g, div((milks ? limits.milk_grain_day_g : limits.grain_day_g) * by_weight, 1000)),
    share: beyond(grain_g, div(share_pm * (grain_g + hay_g), 1000)),
    ...short_of_hay(ctx, id, on, hay_g),
    ca_p: sums.got.p ? beyond(ctx.rule_or_ours("ca_p_low_x100"), div(surely_ca * 100, sums.got.p)) : 0,
    full: beyond(sum(Object.values(own)), sums.appetite_g),
  };
}

/** Grain of the evening is hers too: of a full feeder she has left as much hay by then. */
function hay_beside({ dm, forage_g, appetite_g }: Sums): number {
  return Math.max(0, Math.min(forage_g, appetite_g - (dm - forage_g)));
}

/**
 * What is missing of the least long hay. Late her appetite falls below it: then it is what is put before her, and her
 * grain keeps within its share. Nobody knows to a seventh how much of a shared feeder is hers.
 */
function short_of_hay(ctx: Context, id: string, on: string, hay_g: number): Pick<Past, "forage" | "before"> {
  const least = div(ctx.outlooks[id]!.limits.forage_floor_g * ACT_FORAGE_PM, 1000);
  const { own, offered } = eaten_on(ctx, id, on, true);
  const shares = ctx.pen_mates(pen_on(ctx.doe(id), on) || id, on).length > 1;
  if (late_on(ctx, id, on)) return { forage: 0, before: beyond(least, shares ? hay_g : hay_in(ctx, offered)) };
  const hers = Math.min(hay_g, hay_in(ctx, own));
  return { forage: beyond(least, hers + div((hay_g - hers) * (shares ? guessed : 1000), 1000)), before: 0 };
}

const hay_in = (ctx: Context, dm: Record<string, number>): number =>
  sum(Object.entries(dm).map(([feed, g]) => (is_forage(ctx.feed(feed)) ? g : 0)));

function beyond(value: number, limit: number): number {
  return Math.max(0, value - limit);
}

/** The first of some days ahead on which a limit is not kept, and which; "" where all are. */
export function first_past(base: Context, then: Context, id: string, days: number[]): string {
  for (const k of days) {
    const on = shift(base.day, k);
    const limit = farther(past_limits(then, id, on), () => past_limits(base, id, on));
    if (limit) return `${k} ${limit}`;
  }
  return "";
}

/** The first limit that a day lies farther past than it would have anyway; "" where there is none. */
function farther(then: Past | null, before: () => Past | null): string {
  const past = Object.entries(then ?? {}).filter(([, by]) => by > ACT_ROUNDED);
  const anyway = past.length ? before() : null;
  return past.find(([limit, by]) => by > (anyway?.[limit as keyof Past] ?? 0) + ACT_ROUNDED)?.[0] ?? "";
}

/** Of her forage; bales differ, so that an act stays so far from it. */
export const most_at_once_pm = (): number => div(ACT_SWITCH_FIRST_PM * ACT_LIMIT_PM.ratio, 1000);

/** More of her forage is another than the day before, than may change at once or would have changed anyway. */
export function hay_at_once(then: Context, base: Context, id: string, on: string): boolean {
  const by = most_come_in(then, id, on);
  return by > most_at_once_pm() && by > most_come_in(base, id, on);
}

/** Permille of her forage by which the share of one feed has grown since the day before. */
function most_come_in(ctx: Context, id: string, on: string): number {
  const [before, after] = [shift(on, -1), on].map((day) => forage_pm(ctx, id, day)) as [Shares, Shares];
  if (!Object.keys(before).length) return 0;
  return Math.max(0, ...Object.entries(after).map(([feed, pm]) => pm - (before[feed] ?? 0)));
}

type Shares = Record<string, number>;

/** Her own she eats first; what is shared fills the rest of her appetite, which may be less than it is taken for. */
function forage_pm(ctx: Context, id: string, on: string): Shares {
  const [sums, { own }] = [day_sums(ctx, id, on, true), eaten_on(ctx, id, on, true)];
  if (!sums) return {};
  const [hers, whole] = [hay_in(ctx, own), sums.forage_g];
  const doubt = ctx.rule_or_ours(milk_on(ctx, id, on) > 0 ? "appetite_more_milk_pm" : "appetite_more_pm");
  const room = div(sums.appetite_g * (1000 - doubt), 1000) - (sums.dm - whole) - hers;
  const rest = hers ? Math.min(whole - hers, Math.max(0, room)) : whole;
  const eats = (feed: string) => {
    const mine = own[feed] ?? 0;
    return mine + (whole > hers ? div((sums.dm_by[feed]! - mine) * rest, whole - hers) : 0);
  };
  const feeds = Object.keys(sums.dm_by).filter((feed) => is_forage(ctx.feed(feed)));
  return hers + rest ? Object.fromEntries(feeds.map((feed) => [feed, div(eats(feed) * 1000, hers + rest)])) : {};
}

/** Energy a day below need that takes a quarter of a score in a month: slimming goes no faster. */
export function slimming_kj(ctx: Context, id: string): number {
  const { me_kj_per_point_lost } = ctx.outlooks[id]!.drivers;
  return div(ACT_SLIM_X100 * (me_kj_per_point_lost || 0), ACT_SLIM_D);
}
