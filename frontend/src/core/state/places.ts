import type { Envelope } from "../events/events.ts";
import { text } from "../events/values.ts";
import type { Bag, Calibration } from "./view.ts";

/** What is known of scoops and bags, as the view keeps it. Twin of herd/state/places.py. */
export function calibration_of({ id: ev, on, happened, author, data }: Envelope): Calibration {
  const fills = data["fills_g"];
  const fills_g = Array.isArray(fills) ? fills.filter((g): g is number => Number.isSafeInteger(g)) : [];
  return { ev, on, happened, author, of: text(data, "of"), fills_g, lot: text(data, "lot") };
}

/** A new bag of a feed: what was weighed before that moment may no longer be true. */
export function bag_of({ id: ev, on, happened }: Envelope): Bag {
  return { ev, on, happened };
}
