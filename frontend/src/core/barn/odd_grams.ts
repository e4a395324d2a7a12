import type { FEED_CLASSES } from "../tables/forms.ts";
import { ODD_MEAL_G } from "../tables/numbers.ts";

/**
 * An amount that can be given but that nobody gives one doe in one meal: the form asks before it writes. Not a limit on
 * what may be fed; herd rules hold those.
 */
export type OddGrams = "pounds_for_ounces" | "more_than_a_meal";
type Size = "standard" | "mini";

const OUNCES = 16;
const { grain, hay, ...own } = ODD_MEAL_G;
const MOST_A_MEAL_G: Record<(typeof FEED_CLASSES)[number], Record<Size, number>> = {
  grain, protein: grain, byproduct: grain, legume: hay, grass: hay, mixed: hay, ...own,
};

/** A slot of "" is a whole day, which is two meals. A feed of no known class is asked nothing about. */
export function odd_grams(feed_class: string, size: Size, grams: number, slot: string): OddGrams | null {
  const bands = Object.hasOwn(MOST_A_MEAL_G, feed_class)
    ? MOST_A_MEAL_G[feed_class as (typeof FEED_CLASSES)[number]]
    : null;
  const most = bands ? bands[size] * (slot === "" ? 2 : 1) : Number.POSITIVE_INFINITY;
  if (grams <= most) return null;
  return grams / OUNCES <= most / 2 ? "pounds_for_ounces" : "more_than_a_meal";
}
