import { compareText } from "../../events/order.ts";
import type { Doe } from "../../state/view.ts";

/** What was last said of her udder, by whatever door: a checkup, a hand after drying off, a look after kidding. */
export interface Udder {
  on: string;
  ev: string;
  what: string;
  /** Told by a look after kidding, whose own word stands in her first days. */
  of_dam?: true;
}

const BY_HAND: Record<string, string> = { hot: "hot", hard: "hot", cold: "cold" };
/** Milk in one half, or none yet, says nothing of heat. */
const OF_HALVES: Record<string, string> = { hot: "hot", cold: "cold", both: "fine" };

export function udder_of({ checkups, udder, dam_looks }: Doe, today: string): Udder | null {
  const all: Udder[] = [
    ...checkups.map((one) => ({ on: one[0], ev: one[6], what: one[7].udder })),
    ...udder.map(([on, , , , ev, felt]) => ({ on, ev, what: felt && (BY_HAND[felt] ?? "fine") })),
    ...dam_looks.map(({ on, ev, halves }) => ({ on, ev, what: OF_HALVES[halves] ?? "", of_dam: true as const })),
  ].filter(({ on, what }) => what && on <= today);
  // ids sort by when they were written, which settles what came first on one day
  return all.sort((a, b) => compareText(a.on, b.on) || compareText(a.ev, b.ev)).at(-1) ?? null;
}

/** An udder that is not well: it stands until somebody writes that it is, however long ago it was seen. */
export function bad_udder(doe: Doe, today: string): Udder | null {
  const last = doe.left_on ? null : udder_of(doe, today);
  return last && last.what !== "fine" ? last : null;
}

/** She was given something since on the vet's word: then the call was made. */
export function vet_said({ treatments }: Doe, { on, ev }: Udder): boolean {
  return treatments.some((one) => one.who === "vet" && (one.on > on || (one.on === on && one.ev > ev)));
}
