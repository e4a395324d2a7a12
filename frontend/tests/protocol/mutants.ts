import { Clock } from "../../src/core/base/clock.ts";
import type { Env } from "../../src/core/base/env.ts";
import { newId } from "../../src/core/base/ids.ts";
import type { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import type { EventRow, OutboxRow } from "../../src/core/phone/store/rows.ts";
import type { Life } from "./life.ts";
import type { Faults } from "./network.ts";

/** A planted bug: the core with one part done wrong. The protocol tests must find each of them. */
export interface Mutant {
  store?: (real: FarmStore, life: Life) => FarmStore;
  clock?: (device: string) => Clock;
  onLocked?: (real: FarmStore) => Promise<void>;
  /** Somebody else has the phone now: the store of whoever had it. */
  onTakenOver?: (last: FarmStore) => Promise<void>;
  /** What the app has of the browser. */
  env?: (real: Env) => Env;
  /** An answer as the app reads it. */
  reply?: (response: Response) => Response;
  /** A bug of the server's, by its name in tests/support/planted_bugs.py. */
  server?: string;
  /** Weather that brings it out sooner. */
  faults?: Partial<Faults>;
  /** No answer is let fall on the way in: the new start that follows would make good what the bug has lost. */
  sure_footed?: boolean;
}

export const MUTANTS: Record<string, Mutant> = {
  "outbox cleared at send": {
    store: (real) => changed(real, {
      unsent: async () => {
        const rows = await real.unsent();
        await real.connection.write(["outbox"], async (tx) => {
          for (const row of rows) await tx.objectStore("outbox").delete(row.id);
        });
        return rows;
      },
    }),
  },
  "cursor before rows": {
    store: (real, life) => changed(real, {
      applyReply: async (reply) => {
        const { seq, outlook_rev } = reply.changes;
        await real.putMeta("cursor", { seq, outlook_rev });
        await life.mayEnd(30);
        await real.connection.write(["events"], async (tx) => {
          for (const row of reply.rows) await tx.objectStore("events").put(row);
        });
        await real.applyAnswers(reply.settled);
        return { kind: "applied", events: reply.settled.events };
      },
    }),
  },
  "a new id at every try": {
    store: (real) => changed(real, {
      unsent: async () => (await real.unsent()).map((row): OutboxRow => {
        const id = newId(Date.now(), (n) => crypto.getRandomValues(new Uint8Array(n)));
        return { ...row, id, text: row.text.replace(row.id, id) };
      }),
    }),
  },
  "outbox wiped when the sign-in has expired": {
    onLocked: (real) => emptied(real),
  },
  "epoch ignored": {
    store: (real) => changed(real, {
      applySnapshot: async (...given) => {
        await real.putMeta("epoch", given[0].epoch);
        await real.applySnapshot(...given);
      },
    }),
  },
  "what was refused is not offered again": {
    store: (real) => changed(real, {
      applySnapshot: async (...given) => {
        const refused = (await real.load()).events.filter((row) => row.st === "rejected");
        await real.applySnapshot(...given);
        await real.connection.write(["events", "outbox"], async (tx) => {
          for (const row of refused) {
            await tx.objectStore("events").put(row);
            await tx.objectStore("outbox").delete(row.id);
          }
        });
      },
    }),
  },
  "a version nobody knows read as one that is known": {
    store: (real) => changed(real, {
      load: async (take = () => undefined) => {
        const loaded = await real.load((rows) => take(rows.map(as_known)));
        return { ...loaded, events: loaded.events.map(as_known) };
      },
    }),
  },
  "the phone's clock in place of the hybrid one": {
    clock: (device) => new WallClock(device),
  },
  "answers believed without a look at the epoch": {
    faults: { old_answer: 30 },
    sure_footed: true,
    store: (real) => changed(real, {
      applyReply: async (reply) => {
        await real.putMeta("epoch", reply.changes.epoch);
        return real.applyReply(reply);
      },
    }),
  },
  "an emptied database taken as it is": {
    store: (real) => changed(real, {
      unsent: () => real.unsent(),
      load: async (take) => {
        const loaded = await real.load(take);
        delete loaded.meta.born;
        return loaded;
      },
    }),
  },
  "nobody is told what an emptied phone has lost": {
    env: (real) => ({ ...real, marks: null }),
  },
  "a wipe that leaves the farm on the phone": {
    faults: { meanwhile: 20 },
    env: (real) => ({ ...real, indexedDB: undeleted(real.indexedDB) }),
  },
  "wiped at the first answer, whatever else waits": {
    faults: { too_large: 50, meanwhile: 12 },
    store: (real) => changed(real, {
      applyAnswers: async (settled) => {
        await real.applyAnswers(settled);
        if (settled.gone.length) await emptied(real);
      },
    }),
  },
  "a wait that was asked for is not read": {
    faults: { hands_full: 15 },
    reply: (response) => {
      response.headers.delete("Retry-After");
      return response;
    },
  },
  "whoever takes the phone over empties the last one's outbox": {
    onTakenOver: async (last) => {
      await emptied(last);
      last.close();
    },
  },
  "outlooks are counted and not kept": {
    store: (real) => changed(real, {
      applyReply: (reply) => real.applyReply({ ...reply, changes: { ...reply.changes, outlooks: [] } }),
    }),
  },
  "a clock put right forgets what it has stamped": {
    clock: (device) => new ForgetfulClock(device),
  },
  "a refusal let go before anybody has read it": {
    store: (real) => changed(real, {
      applyReply: (reply) => {
        const { settled } = reply;
        const ids = settled.refused.map(({ id }) => id);
        const [sent, gone] = [[...settled.sent, ...ids], [...settled.gone, ...ids]];
        return real.applyReply({ ...reply, settled: { ...settled, refused: [], sent, gone } });
      },
    }),
  },
  "what somebody removed hands in is answered and not kept": { server: "handed_in_not_kept" },
  "let in and not recorded": { server: "let_in_not_recorded" },
  "let in under the owner's name": { server: "let_in_as_the_owner" },
};

function emptied(store: FarmStore): Promise<void> {
  return store.connection.write(["outbox"], async (tx) => tx.objectStore("outbox").clear());
}

/** An IndexedDB that says it has deleted a database. */
function undeleted(real: IDBFactory): IDBFactory {
  return new Proxy(real, {
    get: (target, name) => {
      if (name === "deleteDatabase") return () => target.deleteDatabase("mangerline/elsewhere");
      const value = Reflect.get(target, name, target) as unknown;
      return typeof value === "function" ? (value.bind(target) as unknown) : value;
    },
  });
}

class ForgetfulClock extends Clock {
  readonly #device: string;

  constructor(device: string) {
    super(device);
    this.#device = device;
  }

  override tick(now_ms: number): string {
    const ahead = this.last.ms > now_ms + 86_400_000;
    return ahead ? new Clock(this.#device).tick(now_ms) : super.tick(now_ms);
  }
}

function as_known(row: EventRow): EventRow {
  const event = JSON.parse(row.text) as { v: number };
  return event.v > 2 ? { ...row, text: JSON.stringify({ ...event, v: 1 }) } : row;
}

class WallClock extends Clock {
  readonly #device: string;

  constructor(device: string) {
    super(device);
    this.#device = device;
  }

  override tick(now_ms: number): string {
    return new Clock(this.#device).tick(now_ms);
  }
}

function changed(real: FarmStore, over: Partial<FarmStore>): FarmStore {
  return new Proxy(real, {
    get: (target, name) => {
      const value = (Reflect.get(over, name) ?? Reflect.get(target, name, target)) as unknown;
      return typeof value === "function" && !Object.hasOwn(over, name) ? (value.bind(target) as unknown) : value;
    },
  });
}
