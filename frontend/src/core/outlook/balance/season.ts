import { confirmed, day_sums, eaten_on, supply } from "./balance.ts";
import { slot_for } from "../ground/branches.ts";
import { shift, type Context } from "../ground/context.ts";
import { season_value } from "../feeding/needs.ts";

/** One day of the manger line: kJ eaten (-1: not confirmed), kJ needed, and the floor or 0. */
export type MangerDay = [on: string, got_kj: number, need_kj: number, floor_kj: number];

/** Days after today follow the plan. */
export function manger_line(ctx: Context, id: string, back_d: number, ahead_d: number): MangerDay[] {
  return Array.from({ length: back_d + ahead_d + 1 }, (_, i) => day_of(ctx, id, shift(ctx.day, i - back_d)));
}

function day_of(ctx: Context, id: string, on: string): MangerDay {
  const planned = on > ctx.day;
  const known = planned || confirmed(ctx, id, on);
  const slot = slot_for(ctx, id, on);
  if (slot === null) {
    const got = known ? supply(ctx, eaten_on(ctx, id, on, planned).dm).got.me : -1;
    const need = season_value(ctx, id, on, "me_kj");
    return [on, need ? got : -1, need, season_value(ctx, id, on, "floor_me_kj")];
  }
  const sums = day_sums(ctx, id, on, planned);
  return [on, sums && known ? sums.got.me : -1, sums ? sums.need.me : 0, slot[0].floor_me_kj[slot[1]]!];
}
