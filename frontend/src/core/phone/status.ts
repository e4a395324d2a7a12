import type { Keeping } from "./keeping.ts";
import type { Picture } from "./picture.ts";
import type { LockedBy } from "./sync/ended.ts";

/** What the chip may say. `n` of `of`: entries; `at`: when this phone last heard from the farm's server (0 = never). */
export interface Status {
  kind: "sent" | "waiting" | "sending" | "needs_you" | "not_saved" | "locked" | "astray";
  n: number;
  of: number;
  at: number;
  why: LockedBy | "";
}

export interface Counts {
  unsaved: number;
  storage_broken: boolean;
  astray: boolean;
  locked: LockedBy | null;
  sending: { n: number; of: number } | null;
  rejected: number;
  waiting: number;
  at: number;
}

interface Link {
  locked: LockedBy | null;
  sending: Counts["sending"];
}

export function countsOf(keeping: Keeping, { locked, sending }: Link, picture: Picture | null): Counts {
  const { memory, not_saved, broken, astray, meta, of_sharers } = keeping;
  return {
    unsaved: not_saved, storage_broken: broken, astray, locked, sending,
    rejected: memory.count("rejected") + (picture?.rejected ?? 0), at: meta.sent_at ?? 0,
    waiting: memory.count("waiting") + of_sharers.length + (picture?.waiting ?? 0),
  };
}

/** The most honest word first: what is not even on the phone, then what cannot be sent, then what merely waits. */
export function statusOf(counts: Counts): Status {
  const { unsaved, rejected, waiting, sending, at } = counts;
  const say = (kind: Status["kind"], n: number, of = n, why: Status["why"] = ""): Status => ({ kind, n, of, at, why });
  if (unsaved > 0 || counts.storage_broken) return say("not_saved", unsaved);
  if (counts.locked) return say("locked", waiting, waiting, counts.locked);
  if (counts.astray) return say("astray", waiting);
  if (sending && sending.n > 0) return say("sending", sending.n, sending.of);
  if (rejected > 0) return say("needs_you", rejected);
  return waiting > 0 ? say("waiting", waiting) : say("sent", 0);
}
