import { DAY_MS, dayOf, HOUR_MS, MIN_MS } from "../../base/days.ts";
import type { RecordRow, View } from "../../state/view.ts";
import { KIDDING_SPAN_H } from "../../tables/numbers.ts";

/** When a kid came: to the minute where somebody tapped it, else the middle of its day. */
export function born_ms({ f }: RecordRow): number {
  const minutes = Number(f["born_min"] ?? 0);
  return minutes ? minutes * MIN_MS : dayOf(String(f["born_on"] ?? "")) * DAY_MS + DAY_MS / 2;
}

export const is_dead = ({ f }: RecordRow) => f["came"] === "dead";

/** The records of her kids of one kidding, by their numbers. */
export function litter_of(view: View, dam: string, first_ms: number, last_ms = first_ms): RecordRow[] {
  const span = KIDDING_SPAN_H * HOUR_MS;
  return Object.values(view.kids)
    .filter((kid) => kid.f["dam"] === dam && Number(kid.f["n"]) > 0)
    .filter((kid) => born_ms(kid) >= first_ms - span && born_ms(kid) <= last_ms + span)
    .sort((a, b) => Number(a.f["n"]) - Number(b.f["n"]));
}
