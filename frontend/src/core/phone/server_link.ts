import type { Clock } from "../base/clock.ts";
import type { Keeping } from "./keeping.ts";
import { START } from "./store/farm_store.ts";
import type { Desk } from "./sync/sender.ts";

interface Parts {
  person: string;
  farmId: string;
  clock: Clock;
  keeping: Keeping;
  view: () => unknown;
  sending: (n: number, of: number) => void;
}

/** What the sender sees of the farm in memory. */
export function deskOf({ person, farmId, clock, keeping, view, sending }: Parts): Desk {
  return {
    person, farmId, clock, sending,
    unsent: () => keeping.unsent(),
    position: () => ({ epoch: keeping.meta.epoch, cursor: keeping.meta.cursor ?? START }),
    isOwn: (entry) => keeping.isOwn(entry),
    textOf: (id) => keeping.memory.row(id)?.text,
    settled: (settled) => keeping.settled(settled),
    applied: (changes, rows) => keeping.applied(changes, rows),
    reaches_back: (changes) => keeping.reaches_back(changes),
    replaced: async () => {
      await keeping.reload();
      // A farm that cannot be added up has not arrived.
      view();
    },
    get astray() {
      return keeping.astray;
    },
    went_astray: (error) => keeping.went_astray(error),
    note: (what, detail) => keeping.note(what, detail),
  };
}
