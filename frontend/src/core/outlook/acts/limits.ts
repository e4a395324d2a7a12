import { div } from "../../base/ints.ts";
import { day_sums, eaten_on, late_on } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import type { Outlook } from "../ground/documents.ts";
import { is_forage } from "../ground/feed_classes.ts";
import type { Sums } from "../ground/shapes.ts";
import { milk_on } from "../feeding/needs.ts";
import {
  ACT_FORAGE_PM, ACT_LIMIT_PM, ACT_ROUNDED, ACT_SLIM_D, ACT_SLIM_X100, ACT_SWITCH_FIRST_PM,
} from "../../tables/numbers.ts";

/** How far a planned day lies past each limit, or nearer to it than an act goes; 0 where it is kept. */
export type Past = Record<"meal" | "day" | "share" | "forage" | "ca_p" | "full", number>;

/** Of a doe nobody weighed nobody knows either how much hay she eats beside her grain. */
const near_pm = ({ assumed }: Outlook): number =>
  assumed.includes("mass_by_class") ? ACT_LIMIT_PM.guessed : ACT_LIMIT_PM.ratio;

/** The farm's limits on grain, forage and minerals for one doe on one day of the plan. */
export function past_limits(ctx: Context, id: string, on: string): Past | null {
  const [sums, { limits }] = [day_sums(ctx, id, on, true), ctx.outlooks[id]!];
  if (sums === null) return null;
  const { meal_g, day_g, own } = eaten_on(ctx, id, on, true);
  const milks = milk_on(ctx, id, on) > 0;
  const day_limit = milks ? limits.milk_grain_day_g : limits.grain_day_g;
  const share_pm = milks ? limits.milk_grain_day_pm : limits.grain_day_pm;
  const grain_dm = sums.dm - sums.forage_g;
  const own_dm = Object.values(own).reduce((total, g) => total + g, 0);
  const by_weight = (limit: number) => div(limit * ACT_LIMIT_PM.weight, 1000);
  const near = (limit: number) => div(limit * near_pm(ctx.outlooks[id]!), 1000);
  return {
    meal: beyond(meal_g, by_weight(limits.grain_meal_g)),
    day: beyond(day_g, by_weight(day_limit)),
    share: beyond(grain_dm, div(near(share_pm) * sums.dm, 1000)),
    forage: beyond(least_forage_g(ctx, id, sums, near(share_pm), on), sums.forage_g),
    ca_p: sums.got.p ? beyond(ctx.rule_or_ours("ca_p_low_x100"), div(near(sums.got.ca) * 100, sums.got.p)) : 0,
    full: beyond(own_dm, sums.appetite_g),
  };
}

/** Late her appetite falls below it: then all that grain within its share leaves room for. */
function least_forage_g(ctx: Context, id: string, { appetite_g }: Sums, share_pm: number, on: string): number {
  const least = div(ctx.outlooks[id]!.limits.forage_floor_g * ACT_FORAGE_PM, 1000);
  return late_on(ctx, id, on) ? Math.min(least, div(appetite_g * (1000 - share_pm), 1000)) : least;
}

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

function forage_pm(ctx: Context, id: string, on: string): Shares {
  const eaten = Object.entries(day_sums(ctx, id, on, true)?.dm_by ?? {}).filter(([feed]) => is_forage(ctx.feed(feed)));
  const total = eaten.reduce((so_far, [, g]) => so_far + g, 0);
  return total ? Object.fromEntries(eaten.map(([feed, g]) => [feed, div(g * 1000, total)])) : {};
}

/** Energy a day below need that takes a quarter of a score in a month: slimming goes no faster. */
export function slimming_kj(ctx: Context, id: string): number {
  const { me_kj_per_point_lost } = ctx.outlooks[id]!.drivers;
  return div(ACT_SLIM_X100 * (me_kj_per_point_lost || 0), ACT_SLIM_D);
}
