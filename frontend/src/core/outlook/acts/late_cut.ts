import { gestation_on } from "../ground/branches.ts";
import { div } from "../../base/ints.ts";
import { day_sums } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import type { Fed } from "../ground/shapes.ts";
import { ACT_LATE_D, ACT_LATE_PM, AHEAD_D } from "../../tables/numbers.ts";

/**
 * Whether a plan gives a doe clearly less on a late day than the plan as it is would, of what is put before her or of
 * what she eats, within the days looked ahead: what she has been held on for longer is no cut. The late day is taken
 * some days early, since nobody knows hers to the day.
 */
export function cuts_late(then: Context, base: Context, id: string): boolean {
  const late = base.rule("late_day") - ACT_LATE_D;
  for (let k = 1; k <= AHEAD_D; k++) {
    const on = shift(base.day, k);
    if (gestation_on(base, id, on) >= late && less(then, base, id, on)) return true;
  }
  return false;
}

function less(then: Context, base: Context, id: string, on: string): boolean {
  const [before, after] = [day_sums(base, id, on, true), day_sums(then, id, on, true)];
  const falls = (was: number, now: number) => now * 1000 < was * (1000 - ACT_LATE_PM);
  if (!before || !after) return false;
  return falls(before.offered_me, after.offered_me) || falls(eaten_me(before), eaten_me(after));
}

/** What comes at several meals may be more than she eats in a day. */
function eaten_me({ got, dm, appetite_g }: Fed): number {
  return dm > appetite_g ? div(got.me * appetite_g, dm) : got.me;
}
