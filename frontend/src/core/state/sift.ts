import type { Envelope } from "../events/events.ts";
import { isKnown } from "../events/kinds.ts";
import { byCodePoint } from "../events/order.ts";
import { content_fault, envelope_fault, type Why } from "../events/readable.ts";
import { settle } from "./chains.ts";
import type { Aside } from "./view.ts";

/** Before anything is folded: which entries count, which wait, and which are set aside. Twin of herd/state/sift.py. */
export interface Sifted {
  counts: Envelope[];
  parked: string[];
  aside: Aside[];
  voided: Record<string, string>;
}

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
  for (const event of live) {
    if (!isKnown(event.kind, event.v)) parked.push(event.id);
    else {
      const why = stopped.has(event.id) ? "stopped" : content_fault(event.kind, event.data);
      if (why) whys.set(event.id, why);
      else counts.push(event);
    }
  }
  return { counts, parked, aside: whys.size ? named(whys, events) : [], voided };
}

function named(whys: Map<string, Why>, events: Envelope[]): Aside[] {
  const kinds = new Map(events.map((event) => [told(event, "id"), told(event, "kind")]));
  return [...whys].map(([ev, why]) => ({ ev, kind: kinds.get(ev)!, why })).sort((a, b) => byCodePoint(a.ev, b.ev));
}

/** Of an entry so broken that it has no id, nothing is told. */
function told(event: Envelope, key: "id" | "kind"): string {
  return typeof event?.id === "string" && typeof event[key] === "string" ? event[key] : "";
}
