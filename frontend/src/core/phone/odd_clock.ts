import { readingOf } from "../base/clock.ts";
import type { Envelope } from "../events/events.ts";

/** An entry whose clock was further off than this is asked about: nobody can tell the day it belongs to. */
const ODD_MS = 24 * 3_600_000;

/**
 * What this phone can see by itself of an entry that no server has judged yet (herd/services/clock.py): entered later
 * than it is now, or long before what its own stamp shows that this phone had heard of. `known_ms`: the later of this
 * phone's clock and the farm's server's when it last spoke.
 */
export function is_odd({ entered, hlc }: Pick<Envelope, "entered" | "hlc">, known_ms: number): boolean {
  const seen = readingOf(hlc)?.ms ?? 0;
  return entered > known_ms + ODD_MS || (seen <= known_ms && seen > entered + ODD_MS);
}
