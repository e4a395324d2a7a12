import type { Envelope } from "../events/events.ts";
import { isKnown } from "../events/kinds.ts";
import type { View } from "../state/view.ts";
import type { Keeping } from "./keeping.ts";
import { to_let_go } from "./letting_go.ts";

/** What of the farm this phone does not show, so that nobody takes what is on the screen for all there is. */
export interface Unread {
  /** Nobody can read these. */
  aside: { id: string; kind: string; event: Envelope | undefined }[];
  /** How many wait for a newer app than this. */
  newer: number;
}

export function unreadOf({ aside, parked }: View, event: (id: string) => Envelope | undefined): Unread {
  const newer = parked.map(event).filter((one) => one && !isKnown(one.kind, one.v)).length;
  return { aside: aside.map(({ ev, kind }) => ({ id: ev, kind, event: event(ev) })), newer };
}

/** Where the farm cannot be added up, that is what is wrong, and the diagnostics say so themselves. */
export function unread_counts(view: () => View): string {
  try {
    const { aside, parked } = view();
    return `aside ${aside.length} parked ${parked.length}`;
  } catch {
    return "aside ?";
  }
}

/** To let go of what is old can wait. A farm that cannot be added up can not: it is fetched anew. */
export function tidy(keeping: Keeping, view: () => View): void {
  let parked: Set<string>;
  try {
    parked = new Set(view().parked);
  } catch (error) {
    return keeping.went_astray(error);
  }
  try {
    keeping.prune((memory, ...when) => to_let_go(memory, parked, ...when));
  } catch (error) {
    keeping.note("prune", String(error));
  }
}
