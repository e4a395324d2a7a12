import { confirmed, day_sums, eaten_on, permille, supply } from "../balance/balance.ts";
import { floor_on } from "../balance/reach.ts";
import { centred } from "../balance/surety.ts";
import { slot_for } from "../ground/branches.ts";
import { shift, type Context } from "../ground/context.ts";
import { season_value } from "../feeding/needs.ts";
import { slack } from "./energy.ts";

/**
 * One day of the manger line: kJ eaten (-1: not confirmed), kJ needed, the floor or 0, and the lower edge of what the
 * word takes for level that day, permille of the middle of the figures for need.
 */
export type MangerDay = [on: string, got_kj: number, need_kj: number, floor_kj: number, least_pm: number];

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
    const floor = season_value(ctx, id, on, "floor_me_kj");
    return [on, need ? got : -1, need, floor, least_pm(ctx, id, on, need, 0)];
  }
  const sums = day_sums(ctx, id, on, planned);
  const need = sums ? sums.need.me : 0;
  const floor = slot[0].floor_me_kj[slot[1]]!;
  return [on, sums && known ? sums.got.me : -1, need, floor, least_pm(ctx, id, on, need, floor_on(ctx, id, on))];
}

/** Late the floor she can eat to; before, what counts as level, and what a fresh doe or one that holds has besides. */
function least_pm(ctx: Context, id: string, on: string, need: number, floor: number): number {
  if (floor && need) return centred(ctx, permille(floor, need));
  return 1000 - Math.max(ctx.rule("level_pm"), slack(ctx, id, on));
}
