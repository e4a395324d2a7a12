import { readingOf } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import type { Envelope } from "../events/events.ts";
import { isKnown, STAMPED } from "../events/kinds.ts";

/** An entry whose clock was further off than this is asked about: nobody can tell the day it belongs to. */
const ODD_MS = 24 * 3_600_000;
const TRUSTED_MS = 600_000;

/**
 * What this phone can see by itself of an entry that no server has judged yet (herd/services/clock.py): entered later
 * than it is now, or long before what its own stamp shows that this phone had heard of; or about a time nobody can have
 * seen yet. `known_ms`: the later of this phone's clock and the farm's server's when it last spoke.
 */
export function is_odd(event: Envelope, known_ms: number, zone: FarmZone): boolean {
  const { entered, hlc } = event;
  const seen = readingOf(hlc)?.ms ?? 0;
  return entered > known_ms + ODD_MS || (seen <= known_ms && seen > entered + ODD_MS) || to_come(event, known_ms, zone);
}

/** A hold may be put off, and a plan lies ahead. */
function to_come({ kind, v, happened, on }: Envelope, known_ms: number, zone: FarmZone): boolean {
  if (!isKnown(kind, v) || STAMPED.has(kind) || kind === "freeze") return false;
  return happened > known_ms + ODD_MS || on > zone.dateAt(known_ms + ODD_MS + TRUSTED_MS);
}
