import type { Envelope } from "../events/events.ts";
import { text, whole } from "../events/values.ts";
import type { Bag, Calibration, Round } from "./view.ts";

/** What is known of scoops, bags and rounds of the barn, as the view keeps it. Twin of herd/state/places.py. */
export function calibration_of({ id: ev, on, happened, author, data }: Envelope): Calibration {
  const fills = data["fills_g"];
  const fills_g = Array.isArray(fills) ? fills.filter((g): g is number => Number.isSafeInteger(g)) : [];
  return { ev, on, happened, author, of: text(data, "of"), fills_g, lot: text(data, "lot") };
}

/** A new bag of a feed: what was weighed before that moment may no longer be true. */
export function bag_of({ id: ev, on, happened }: Envelope): Bag {
  return { ev, on, happened };
}

/** One look round: heads counted, water, hay, gates, or who was let out of the head gate. */
export function round_of({ id: ev, subject, on, slot, happened, author, data }: Envelope): Round {
  return {
    ev, subject, on, slot, happened, author, what: text(data, "what"), count: whole(data, "count"),
    of: whole(data, "of"),
  };
}
