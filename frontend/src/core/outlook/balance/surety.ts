import { div, isqrt, root_of_squares } from "../../base/ints.ts";
import { part_of, permille } from "./balance.ts";
import type { Context } from "../ground/context.ts";
import type { Nutrient, State, Sums } from "../ground/shapes.ts";
import { Z60_PM, Z80_PM } from "../../tables/numbers.ts";
import type { RuleName } from "../../tables/rules.ts";

/**
 * How sure a ratio is: the 80 % band about supply over need. What is not known of her weight, kids and milk moves her
 * need of protein and minerals as of energy.
 */
export type Band = [lo: number, hi: number];

const ONE_FEED: Record<Exclude<Nutrient, "me">, RuleName> = {
  cp: "cp_band_pm", ca: "mineral_band_pm", p: "mineral_band_pm",
};

/** For one nutrient. Several feeds err apart: a mixed ration is surer than a single hay. */
export function band_of(ctx: Context, key: Nutrient, total: Sums): Band {
  if (key === "me") return energy_band(ctx, total);
  const [got, need] = [total.got[key], total.need[key]];
  const pm = permille(got, need);
  if (got <= 0 || need <= 0 || total.dm <= 0 || total.need.me <= 0) return [pm, pm];
  const doubts: number[] = amounts_doubts(ctx, got, div(got * (total.dm - total.own), total.dm));
  for (const [feed, g] of Object.entries(total.dm_by)) {
    const half_pm = div(ctx.rule(ONE_FEED[key]) * feed_sd_pm(ctx, feed), ctx.rule("feed_sd_pm"));
    doubts.push(div(part_of(ctx, feed, key, g) * half_pm, Z80_PM));
  }
  const [of_supply, of_need] = [div(root_of_squares(doubts) * 1000, got), div(total.need_sd * 1000, total.need.me)];
  return spread(pm, div(isqrt(of_supply * of_supply + of_need * of_need) * Z80_PM, 1000));
}

/** Errors of one feed, feeder or doe last all week together. */
export function energy_band(ctx: Context, total: Sums): Band {
  return band_about(ctx, total, permille(total.got.me, total.need.me));
}

/** The doubt of days added up, laid about a ratio. */
export function band_about(ctx: Context, total: Sums, pm: number): Band {
  const [got, need] = [total.got.me, total.need.me];
  if (got <= 0 || need <= 0) return [pm, pm];
  const [of_supply, of_need] = [div(isqrt(supply_doubt(ctx, total)) * 1000, got), div(total.need_sd * 1000, need)];
  const sd_pm = isqrt(of_supply * of_supply + of_need * of_need);
  return spread(centred(ctx, pm), div(sd_pm * Z80_PM, 1000));
}

/** The ratio in the middle of the published figures for need, where the default stands at their top. */
export function centred(ctx: Context, pm: number): number {
  return div(pm * (1000 + ctx.rule("need_high_pm")), 1000);
}

/**
 * Variance of the energy eaten over the days, kJ squared: the feeder's waste and sharing, amounts, each feed's energy.
 */
export function supply_doubt(ctx: Context, total: Sums): number {
  const [of_sharing, of_scoops] = amounts_doubts(ctx, total.got.me, total.got.me - total.own_me);
  let doubt = of_sharing * of_sharing + of_scoops * of_scoops;
  for (const [feed, g] of Object.entries(total.dm_by)) {
    doubt += div(part_of(ctx, feed, "me", g) * feed_sd_pm(ctx, feed), 1000) ** 2;
  }
  return doubt;
}

/** Of what is shared out, and of scoops and flakes. */
function amounts_doubts(ctx: Context, got: number, shared: number): [sharing: number, scoops: number] {
  return [div(shared * ctx.rule("waste_share_sd_pm"), 1000), div(got * ctx.rule("amount_sd_pm"), 1000)];
}

export function feed_sd_pm(ctx: Context, id: string): number {
  return ctx.feed(id)?.me_sd_pm ?? ctx.rule("feed_sd_pm");
}

/** A ratio so many times smaller and greater: what is wrong with feed and need multiplies. */
export function spread(pm: number, half_pm: number): Band {
  return [div(pm * 1000, 1000 + half_pm), div(pm * (1000 + half_pm), 1000)];
}

/** The band drawn in, to so much of its width, permille. */
export function drawn_in([lo, hi]: Band, width_pm: number): Band {
  const middle = isqrt(lo * hi);
  return middle ? spread(middle, div((div(hi * 1000, middle) - 1000) * width_pm, 1000)) : [lo, hi];
}

/** Whether four chances in five lie on the side that is spoken of: the band drawn in from its 80 % to 60 %. */
export function sure(state: State, band: Band): boolean {
  const [lo, hi] = drawn_in(band, div(Z60_PM * 1000, Z80_PM));
  return state === "short" ? hi < 1000 : state === "over" ? lo > 1000 : true;
}
