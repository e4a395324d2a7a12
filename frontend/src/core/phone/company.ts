import type { Envelope } from "../events/events.ts";
import type { Keeping } from "./keeping.ts";
import { catchUp, waitingOf, type Place } from "./sharers.ts";
import type { EventRow } from "./store/rows.ts";
import type { Ended } from "./sync/sender.ts";

interface Parts {
  mates: string[];
  place: Place;
  keeping: Keeping;
  send: () => Promise<Ended>;
  sendAs: (mate: string) => Promise<Ended>;
}

/** What others who use this phone recorded on it and have not sent yet. */
export class Company {
  #left: EventRow[] = [];
  readonly #parts: Parts;
  /** Those whom the server wants to sign in again: not asked for twice. */
  readonly #locked = new Set<string>();

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  /** The farm starts from where the last one on this phone left it, with what she has not sent. */
  async follow(last: string, person: string): Promise<void> {
    const { place } = this.#parts;
    // Her outbox first: what is sent between the two readings is found in one of them.
    this.#left = await waitingOf(last, place).catch(() => []);
    await catchUp(person, last, place).catch(() => false);
  }

  waiting(): Envelope[] {
    const { keeping } = this.#parts;
    return keeping.of_mates.map(({ id }) => keeping.memory.event(id)!);
  }

  async see(): Promise<void> {
    const { mates, place, keeping } = this.#parts;
    const rows = await Promise.all(mates.map((mate) => waitingOf(mate, place).catch(() => [])));
    keeping.takeMates([...this.#left, ...rows.flat()]);
    this.#left = [];
  }

  /**
   * Where there is a signal, what others left here goes out too: each as herself, as long as she has a seat of her own.
   */
  async send(): Promise<void> {
    const authors = new Set(this.waiting().map(({ author }) => author));
    const mates = [...authors].filter((mate) => !this.#locked.has(mate));
    if (mates.length === 0) return;
    for (const mate of mates) {
      if ((await this.#parts.sendAs(mate)).kind === "locked") this.#locked.add(mate);
    }
    // Back in one's own seat, and what has just gone out comes in before it is taken off the list of what waits.
    if ((await this.#parts.send()).kind === "done") await this.see();
  }
}
