import { effective, type Envelope } from "./events.ts";
import { upcast } from "./state/upcast.ts";
import type { EventRow, OutboxRow } from "./store/rows.ts";
import type { Settled } from "./store/settle.ts";

/** A written row and the event it stands for, parsed once. */
interface Held {
  row: EventRow;
  event: Envelope;
}

/** All events of the farm on this phone, and what of them still has to be sent. Changed first, written after. */
export class Memory {
  #held = new Map<string, Held>();
  #outbox = new Map<string, OutboxRow>();
  #version = 0;
  #counting: Envelope[] | null = null;

  get version(): number {
    return this.#version;
  }

  /** What the view is folded from: everything but what the server refused. */
  counting(): Envelope[] {
    this.#counting ??= [...this.#held.values()].filter(({ row }) => row.st !== "rejected").map(({ event }) => event);
    return this.#counting;
  }

  /** What the farm's server has: the only entries that may be let go when they grow old. */
  settled(): Envelope[] {
    const there = [...this.#held.values()].filter(({ row }) => row.st === "ok" || row.st === "parked");
    return there.map(({ event }) => event);
  }

  event(id: string): Envelope | undefined {
    return this.#held.get(id)?.event;
  }

  row(id: string): EventRow | undefined {
    return this.#held.get(id)?.row;
  }

  outbox(st: OutboxRow["st"]): OutboxRow[] {
    return [...this.#outbox.values()].filter((row) => row.st === st);
  }

  count(st: OutboxRow["st"]): number {
    let n = 0;
    for (const row of this.#outbox.values()) if (row.st === st) n++;
    return n;
  }

  replace(rows: EventRow[], outbox: OutboxRow[]): void {
    this.#held = new Map();
    this.#outbox = new Map(outbox.map((row) => [row.id, row]));
    this.put(rows);
  }

  put(rows: EventRow[]): void {
    for (const row of rows) {
      if (row.hidden) this.#held.delete(row.id);
      else this.#held.set(row.id, { row, event: upcast(effective(JSON.parse(row.text) as Envelope, row.eff)) });
      if (row.own && (row.st === "ok" || row.st === "parked")) this.#outbox.delete(row.id);
    }
    this.#changed();
  }

  record(row: EventRow, outbox: OutboxRow): void {
    this.#outbox.set(outbox.id, outbox);
    this.put([row]);
  }

  settle(settled: Settled): void {
    for (const id of settled.sent) this.#outbox.delete(id);
    for (const row of settled.refused) this.#outbox.set(row.id, row);
    this.put(settled.events);
  }

  drop(ids: string[]): void {
    for (const id of ids) {
      this.#held.delete(id);
      this.#outbox.delete(id);
    }
    this.#changed();
  }

  #changed(): void {
    this.#version++;
    this.#counting = null;
  }
}
