import type { Changes } from "./wire.ts";

export type LockedBy = "sign_in" | "other_person" | "not_member";
/** How a run of sending and fetching ended. */
export type Ended =
  | { kind: "done"; due?: true } | { kind: "later"; why: string; after_ms: number } | { kind: "locked"; why: LockedBy }
  /** On the farm no more: nothing of it is to stay on this phone. */
  | { kind: "removed" };

export const REMOVED: Ended = { kind: "removed" };

/** The server has said for how long to stay away. */
export function isTold(ended: Ended): boolean {
  return ended.kind === "later" && ended.why === "busy" && ended.after_ms > 0;
}

/** `due`: the server is still making outlooks of what it has. */
export function done(changes: Changes): Ended {
  return changes.outlooks_due ? { kind: "done", due: true } : { kind: "done" };
}

export function later(why: string): Ended {
  return { kind: "later", why, after_ms: 0 };
}
