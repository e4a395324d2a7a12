import type { Memory } from "./memory.ts";
import type { EventRow } from "./store/rows.ts";

/** What others recorded on this phone and have not sent: it counts here, and goes out under their own names. */
export class OthersHere {
  #rows: EventRow[] = [];
  readonly #memory: Memory;

  constructor(memory: Memory) {
    this.#memory = memory;
  }

  get waiting(): EventRow[] {
    return this.#rows.filter(({ id }) => isOfOthers(this.#memory.row(id)));
  }

  /**
   * What was shown before and waits with nobody any more was refused or taken back, unless the farm has it by now. Says
   * whether anything is another than before.
   */
  take(rows: EventRow[]): boolean {
    const still = new Set(rows.map(({ id }) => id));
    const gone = this.waiting.filter(({ id }) => !still.has(id));
    if (gone.length === 0 && rows.every(({ id }) => this.#memory.row(id))) return false;
    this.#memory.drop(gone.map(({ id }) => id));
    this.#rows = [...new Map(rows.map((row) => [row.id, row])).values()];
    this.show();
    return true;
  }

  show(): void {
    this.#memory.put(this.#rows.filter(({ id }) => !this.#memory.row(id)));
  }
}

function isOfOthers(row: EventRow | undefined): boolean {
  return row !== undefined && row.st === "waiting" && !row.own;
}
