import { div, isqrt } from "../ints.ts";
import { permille } from "./balance.ts";
import type { Context } from "./context.ts";
import type { State, Sums } from "./shapes.ts";

/** How sure a ratio is: the 80 % band about supply over need. Twin of herd/outlook/surety.py. */
const Z80_PM = 1282;

export type Band = [lo: number, hi: number];

/** Errors of one feed, feeder or doe last all week together. */
export function energy_band(ctx: Context, total: Sums): Band {
  const [got, need] = [total.got.me, total.need.me];
  const pm = permille(got, need);
  if (got <= 0 || need <= 0) return [pm, pm];
  const shared = div((got - total.own_me) * ctx.rule("waste_share_sd_pm"), 1000);
  let doubt = shared * shared;
  for (const [feed, kj] of Object.entries(total.me_by)) {
    const of_feed = div(kj * feed_sd_pm(ctx, feed), 1000);
    doubt += of_feed * of_feed;
  }
  const [of_supply, of_need] = [div(isqrt(doubt) * 1000, got), div(total.need_sd * 1000, need)];
  const sd_pm = isqrt(of_supply * of_supply + of_need * of_need);
  return spread(pm, div(sd_pm * Z80_PM, 1000));
}

export function feed_sd_pm(ctx: Context, id: string): number {
  return ctx.feed(id)?.me_sd_pm ?? ctx.rule("feed_sd_pm");
}

/** A ratio less and plus a share of itself. */
export function spread(pm: number, half_pm: number): Band {
  const width = div(pm * half_pm, 1000);
  return [Math.max(0, pm - width), pm + width];
}

/** Whether the whole band lies on the side that is spoken of. */
export function sure(state: State, [lo, hi]: Band): boolean {
  return state === "short" ? hi < 1000 : state === "over" ? lo > 1000 : true;
}
