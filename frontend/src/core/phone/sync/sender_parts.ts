import type { Clock } from "../../base/clock.ts";
import type { Env } from "../../base/env.ts";
import type { View } from "../../state/view.ts";
import type { Keeping } from "../keeping.ts";
import type { FarmStore } from "../store/farm_store.ts";
import type { Session } from "./session.ts";

/** What of a farm the sender works with. */
export interface Parts {
  person: string;
  farmId: string;
  env: Env;
  clock: Clock;
  store: FarmStore;
  keeping: Keeping;
  session: Session;
  view: () => View;
  /** So many of so many are on their way. */
  sending: (now: number, of: number) => void;
}
