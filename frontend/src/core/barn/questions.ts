import { addDays } from "../base/days.ts";
import { amount_on } from "../state/rations.ts";
import type { Doe, View } from "../state/view.ts";
import { RISES_WITHIN_D, SLIM_DAY, SLIM_SCORED_D } from "../tables/numbers.ts";

/** Questions asked from what is recorded alone: two for a hand on her, one for the scale. */

/**
 * In the last days in which a fat doe can still be slimmed, and nobody has scored her lately. gest is -1 when she
 * carries nothing.
 */
export function slim_check(doe: Doe, gest: number, today: string): boolean {
  if (gest < SLIM_DAY[0] || gest > SLIM_DAY[1]) return false;
  const last = doe.scores.at(-1)?.[0] ?? "";
  return last < addDays(today, -SLIM_SCORED_D);
}

/** The uneven udder nobody has felt since: the day it was seen and by whom, or null. */
export function uneven_udder(doe: Doe): { on: string; author: string } | null {
  const last = doe.udder.at(-1);
  if (!last?.[2]) return null;
  const [on, , , author, ev] = last;
  // Ids sort by when they were written, which settles what came first on one day.
  const felt = doe.checkups.some((one) => one[7].udder !== "" && (one[0] > on || (one[0] === on && one[6] > ev)));
  return felt ? null : { on, author };
}

/** The first day since a weight went old on which some ration of a feed was or soon is to go up; "" where none is. */
export function first_rise(view: View, feed: string, since: string, today: string): string {
  const last = addDays(today, RISES_WITHIN_D);
  const rises = Object.values(view.rations).filter((ration) => ration.feed === feed).flatMap(({ steps }) =>
    steps.filter(([on, g]) => on >= since && on <= last && g > amount_on(steps, addDays(on, -1))).map(([on]) => on),
  );
  return rises.sort()[0] ?? "";
}
