import type { Clock } from "../base/clock.ts";
import type { Env } from "../base/env.ts";
import { StoreError } from "./store/errors.ts";
import type { FarmStore } from "./store/farm_store.ts";
import { makeRoom } from "./store/room.ts";
import type { EventRow, OutboxRow } from "./store/rows.ts";

export interface Unsaved {
  row: EventRow;
  outbox: OutboxRow;
  failed: boolean;
}

interface Parts {
  farm: string;
  env: Env;
  clock: Clock;
  store: FarmStore;
  note: (what: string, detail: string) => void;
  saved: () => void;
  failed: () => void;
}

/** What was recorded on its way into the phone's storage. */
export class Saving {
  readonly under_way = new Map<string, Unsaved>();
  readonly #parts: Parts;
  #asked = false;

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  failed(): Unsaved[] {
    return [...this.under_way.values()].filter(({ failed }) => failed);
  }

  async save(unsaved: Unsaved): Promise<void> {
    // What a tap shows is painted first: it takes a slow phone as long to begin writing as to draw a row.
    await this.#parts.env.drawn();
    try {
      await this.#write(unsaved);
    } catch (error) {
      unsaved.failed = true;
      this.#parts.note("not_saved", error instanceof StoreError ? error.code : String(error));
      this.#parts.failed();
      throw error;
    }
    this.under_way.delete(unsaved.row.id);
    this.#parts.saved();
    this.#askToKeep();
  }

  async #write({ row, outbox }: Unsaved): Promise<void> {
    const { store, clock, farm, env } = this.#parts;
    const steps = makeRoom(store, farm, env);
    for (;;) {
      try {
        return await store.saveRecorded(row, outbox, clock.last);
      } catch (error) {
        const next = error instanceof StoreError && error.code === "quota" ? steps.shift() : undefined;
        if (!next) throw error;
        this.#parts.note("make_room", String(steps.length));
        await next().catch(() => undefined);
      }
    }
  }

  /** Once a run, when there is something to lose: browsers are readier to say yes to somebody who uses the app. */
  #askToKeep(): void {
    const { persist } = this.#parts.env;
    if (this.#asked || !persist) return;
    this.#asked = true;
    persist().then((kept) => this.#parts.note("persist", kept ? "granted" : "refused"), () => undefined);
  }
}
