import { addDays, dayOf } from "../base/days.ts";
import { unsaid_last } from "../outlook/plans/last_milking.ts";
import { amount_on } from "../state/planned.ts";
import type { Doe, View } from "../state/view.ts";
import { PHASE } from "../tables/codes.ts";
import { DRY_FELT_D, MILK_RECENT_D, RISES_WITHIN_D, SLIM_DAY, SLIM_SCORED_D } from "../tables/numbers.ts";

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

/** Days since her last milking while a hand is to feel her udder every day, and nobody has today; -1 otherwise. */
export function udder_due(doe: Doe, today: string): number {
  const { bred, udder, checkups, left_on } = doe;
  const last = doe.dried_on || unsaid_last(doe, today);
  const since = last && bred && !left_on ? dayOf(today) - dayOf(last) : -1;
  if (since < 1 || since > DRY_FELT_D) return -1;
  const by_hand = udder.some(([on, , , , , how]) => on === today && how !== "");
  return by_hand || checkups.some((one) => one[0] === today && one[7].udder !== "") ? -1 : since;
}

const MILKING = [PHASE.carrying_in_milk, PHASE.drying_off, PHASE.fresh, PHASE.in_milk] as number[];

/**
 * Milk was weighed lately of a doe who is taken for dry: since when she is in milk is asked once. phase is -1 while
 * nobody knows it.
 */
export function milk_while_dry(doe: Doe, phase: number, today: string): { on: string; dried_on: string } | null {
  const on = doe.milks.findLast(([, g]) => g > 0)?.[0] ?? "";
  if (!on || on < addDays(today, -MILK_RECENT_D) || on <= doe.dried_on || doe.left_on) return null;
  if (doe.dried_on) return { on, dried_on: doe.dried_on };
  return phase < 0 || MILKING.includes(phase) ? null : { on, dried_on: "" };
}

/** The first day since a weight went old on which some ration of a feed was or soon is to go up; "" where none is. */
export function first_rise(view: View, feed: string, since: string, today: string): string {
  const last = addDays(today, RISES_WITHIN_D);
  const rises = Object.values(view.rations).filter((ration) => ration.feed === feed).flatMap(({ steps }) =>
    steps.filter(([on, g]) => on >= since && on <= last && g > amount_on(steps, addDays(on, -1))).map(([on]) => on),
  );
  return rises.sort()[0] ?? "";
}
