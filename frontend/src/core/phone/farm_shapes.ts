import type { Clock } from "../base/clock.ts";
import type { Env } from "../base/env.ts";
import type { Envelope } from "../events/events.ts";
import type { Slot } from "../events/kinds.ts";
import type { FarmStore } from "./store/farm_store.ts";
import type { Session } from "./sync/session.ts";
import type { Names } from "./waits.ts";

export interface FarmOptions {
  person: string;
  farmId: string;
  zone: string;
  device?: string;
  names?: Names;
  env?: Partial<Env>;
  session?: Session;
  /** Who else uses this phone, and whether one of them had it last: then the farm starts from what she has seen. */
  sharers?: string[];
  after?: string;
  /** Ready as soon as the picture of the last time can be shown; the caller then asks for the rest by `complete`. */
  early?: boolean;
  /** Their storage, where somebody has begun to read it. */
  store?: FarmStore;
  /** For tests: other parts in place of the real ones. */
  parts?: { store?: (real: FarmStore) => FarmStore; clock?: (real: Clock) => Clock };
}

export interface When {
  on?: string;
  slot?: Slot;
  happened?: number;
}

export interface Recorded {
  id: string;
  /** Settles only when the phone's storage has it for good; rejects with a StoreError when it does not. */
  saved: Promise<void>;
}

export interface Pending {
  event: Envelope;
  code: string;
  why: string;
}
