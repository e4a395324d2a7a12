import type { Envelope } from "../events/events.ts";
import { isKnown, STAMPED } from "../events/kinds.ts";
import { byCodePoint } from "../events/order.ts";
import { content_fault, envelope_fault, type Why } from "../events/readable.ts";
import { settle } from "./chains.ts";
import type { Aside, Undated } from "./view.ts";

/** Before anything is folded: which entries count, which wait, and which are set aside. Twin of herd/state/sift.py. */
export interface Sifted {
  counts: Envelope[];
  parked: string[];
  aside: Aside[];
  voided: Record<string, string>;
  /** Whose clock was so wrong that nobody knows their day, until somebody has said it. */
  undated: Undated[];
}

/**
 * Left out is the dangerous side: its holds carry dates of their own, off the label, and somebody drinks that milk.
 */
const HELD_ALL_THE_SAME = new Set(["treatment"]);

/** `stopped`: ids of entries the fold has stopped on. */
export function sift(events: Envelope[], stopped: Set<string>): Sifted {
  const there = new Map<string, Envelope>();
  const broken = new Map<string, Why>();
  for (const event of events) {
    const why = envelope_fault(event);
    if (why) broken.set(told(event, "id"), why);
    else there.set(event.id, event);
  }
  const { live, voided, waiting: parked, aside: unread } = settle([...there.values()]);
  const whys = new Map([...broken, ...unread]);
  const counts: Envelope[] = [];
  const undated: Undated[] = [];
  for (const event of live) {
    if (!isKnown(event.kind, event.v)) parked.push(event.id);
    else {
      const why = stopped.has(event.id) ? "stopped" : content_fault(event.kind, event.data);
      const odd = event.odd !== undefined && !STAMPED.has(event.kind);
      if (why) whys.set(event.id, why);
      else if (odd) undated.push(asked_when(event));
      if (!why && (!odd || HELD_ALL_THE_SAME.has(event.kind))) counts.push(event);
    }
  }
  undated.sort((a, b) => byCodePoint(a.ev, b.ev));
  return { counts, parked, aside: whys.size ? named(whys, events) : [], voided, undated };
}

function asked_when({ id: ev, kind, subject, on, slot, happened, author }: Envelope): Undated {
  return { ev, kind, subject, on, slot, happened, author };
}

function named(whys: Map<string, Why>, events: Envelope[]): Aside[] {
  const kinds = new Map(events.map((event) => [told(event, "id"), told(event, "kind")]));
  return [...whys].map(([ev, why]) => ({ ev, kind: kinds.get(ev)!, why })).sort((a, b) => byCodePoint(a.ev, b.ev));
}

/** Of an entry so broken that it has no id, nothing is told. */
function told(event: Envelope, key: "id" | "kind"): string {
  return typeof event?.id === "string" && typeof event[key] === "string" ? event[key] : "";
}
