import type { FarmZone } from "../base/days.ts";
import type { Memory } from "./memory.ts";
import { outside } from "./recent.ts";

/** Out of memory, and of these out of storage. */
export interface LetGo {
  gone: string[];
  forgotten: string[];
}

const OWN_KEPT_MS = 90 * 86_400_000;

/**
 * Counted from the last day the server named, never from this phone's clock: a clock that jumps a year ahead must not
 * throw the farm away. Own entries stay in storage 90 days after it last spoke of them, to be offered again if it
 * ever loses them.
 */
export function to_let_go(
  memory: Memory, parked: Set<string>, zone: FarmZone, server_now = 0,
): LetGo {
  if (!server_now) return { gone: [], forgotten: [] };
  const gone = [...outside(memory.settled(), parked, zone.dateAt(server_now), memory.bare_links())];
  const rows = gone.map((id) => memory.row(id)!);
  const forgotten = rows.filter(({ own, aged_from }) => !own || aged_from < server_now - OWN_KEPT_MS);
  return { gone, forgotten: forgotten.map(({ id }) => id) };
}
