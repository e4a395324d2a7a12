import { div, isqrt } from "../ints.ts";
import { permille } from "./balance.ts";
import type { Context } from "./context.ts";
import type { State, Sums } from "./shapes.ts";

/** How sure a ratio is: the 80 % band about supply over need. Twin of herd/outlook/surety.py. */
export const [Z60_PM, Z80_PM] = [842, 1282];

export type Band = [lo: number, hi: number];

/** Errors of one feed, feeder or doe last all week together. */
export function energy_band(ctx: Context, total: Sums): Band {
  const [got, need] = [total.got.me, total.need.me];
  const pm = permille(got, need);
  if (got <= 0 || need <= 0) return [pm, pm];
  const [of_supply, of_need] = [div(isqrt(supply_doubt(ctx, total)) * 1000, got), div(total.need_sd * 1000, need)];
  const sd_pm = isqrt(of_supply * of_supply + of_need * of_need);
  return spread(centred(ctx, pm), div(sd_pm * Z80_PM, 1000));
}

/** The ratio in the middle of the published figures for need, where the default stands at their top. */
export function centred(ctx: Context, pm: number): number {
  return div(pm * (1000 + ctx.rule("need_high_pm")), 1000);
}

/** Variance of the energy eaten over the days, kJ squared: the feeder's waste and sharing, amounts, each feed's energy. */
export function supply_doubt(ctx: Context, total: Sums): number {
  const shared = div((total.got.me - total.own_me) * ctx.rule("waste_share_sd_pm"), 1000);
  const amounts = div(total.got.me * ctx.rule("amount_sd_pm"), 1000);
  let doubt = shared * shared + amounts * amounts;
  for (const [feed, kj] of Object.entries(total.me_by)) {
    const of_feed = div(kj * feed_sd_pm(ctx, feed), 1000);
    doubt += of_feed * of_feed;
  }
  return doubt;
}

export function feed_sd_pm(ctx: Context, id: string): number {
  return ctx.feed(id)?.me_sd_pm ?? ctx.rule("feed_sd_pm");
}

/** A ratio less and plus a share of itself. */
export function spread(pm: number, half_pm: number): Band {
  const width = div(pm * half_pm, 1000);
  return [Math.max(0, pm - width), pm + width];
}

/** Whether four chances in five lie on the side that is spoken of: the band drawn in from its 80 % to 60 %. */
export function sure(state: State, [lo, hi]: Band): boolean {
  const [middle, half] = [div(lo + hi, 2), div(div((hi - lo) * Z60_PM, Z80_PM), 2)];
  return state === "short" ? middle + half < 1000 : state === "over" ? middle - half > 1000 : true;
}
