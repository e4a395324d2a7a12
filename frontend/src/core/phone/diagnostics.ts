import type { Noted } from "./store/rows.ts";

const KEPT = 200;
const LONGEST = 160;

/**
 * The last notable happenings on this phone, to read out or share when something is odd. Codes and counts, no secrets.
 */
export class Diagnostics {
  #entries: Noted[];

  constructor(entries: Noted[] = []) {
    this.#entries = entries.slice(-KEPT);
  }

  add(at: number, what: string, detail = ""): void {
    this.#entries.push({ at, what, detail: detail.slice(0, LONGEST) });
    if (this.#entries.length > KEPT) this.#entries = this.#entries.slice(-KEPT);
  }

  get entries(): Noted[] {
    return [...this.#entries];
  }

  text(): string {
    return this.#entries.map(({ at, what, detail }) => `${isoTime(at)} ${what} ${detail}`.trimEnd()).join("\n");
  }
}

/** A phone's clock can be so wrong that no date can be written for it. */
function isoTime(at: number): string {
  return Math.abs(at) <= 8.64e15 ? new Date(at).toISOString() : String(at);
}
