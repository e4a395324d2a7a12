import { FEED_CLASSES } from "../events/record_fields.ts";

/**
 * An amount that can be given but that nobody gives one doe in one meal: the form asks before it writes. Common
 * practice, no source: about twice what a big eater of her size gets. Not a limit on what may be fed; herd rules hold
 * those.
 */
export type OddGrams = "pounds_for_ounces" | "more_than_a_meal";
type Size = "standard" | "mini";

const OUNCES = 16;
const GRAIN: Record<Size, number> = { standard: 1_800, mini: 700 };
const HAY: Record<Size, number> = { standard: 5_000, mini: 2_500 };
const MOST_A_MEAL_G: Record<(typeof FEED_CLASSES)[number], Record<Size, number>> = {
  grain: GRAIN, protein: GRAIN, byproduct: GRAIN,
  legume: HAY, grass: HAY, mixed: HAY,
  fodder: { standard: 3_500, mini: 1_500 },
  fat: { standard: 200, mini: 80 },
  mineral: { standard: 120, mini: 60 },
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
