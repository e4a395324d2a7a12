/** Hybrid logical clock: reads the phone's time, never runs backwards, and is always past everything it has seen. */
export interface ClockReading {
  ms: number;
  count: number;
}

const HLC = /^([0-9a-f]{12})-([0-9a-f]{4})-[0-9a-f]{8}$/;
const COUNT_MAX = 0xffff;
/** The last day there is a date for. Past it a clock soon has no more to say, and nothing could be recorded. */
const LAST_MS = 253_402_300_799_000;

export class Clock {
  #last: ClockReading;
  readonly #device8: string;

  constructor(device: string, last: ClockReading = { ms: 0, count: 0 }) {
    this.#device8 = device.replaceAll("-", "").slice(0, 8);
    this.#last = { ...last };
  }

  /** A new reading, later than all before it, as text that sorts. */
  tick(now_ms: number): string {
    const now = Math.floor(now_ms);
    this.#last = now > this.#last.ms ? { ms: now, count: 0 } : next(this.#last);
    return toText(this.#last, this.#device8);
  }

  /** Takes in a reading from elsewhere, so that whatever this phone says next counts as having seen it. */
  merge(hlc: string): void {
    const seen = readingOf(hlc);
    if (seen && isSane(seen) && isAfter(seen, this.#last)) this.#last = seen;
  }

  /** The farm's server has told the time: what is written after that was not written before it. */
  heard(ms: number): void {
    if (ms > this.#last.ms) this.#last = { ms, count: 0 };
  }

  catchUp(stored: ClockReading | undefined): void {
    if (stored && isSane(stored) && isAfter(stored, this.#last)) this.#last = { ...stored };
  }

  get last(): ClockReading {
    return { ...this.#last };
  }
}

export function readingOf(hlc: string): ClockReading | null {
  const parts = HLC.exec(hlc);
  return parts ? { ms: parseInt(parts[1]!, 16), count: parseInt(parts[2]!, 16) } : null;
}

export function isSane({ ms }: ClockReading): boolean {
  return ms <= LAST_MS;
}

export function isAfter(a: ClockReading, b: ClockReading): boolean {
  return a.ms > b.ms || (a.ms === b.ms && a.count > b.count);
}

function next(last: ClockReading): ClockReading {
  return last.count < COUNT_MAX ? { ms: last.ms, count: last.count + 1 } : { ms: last.ms + 1, count: 0 };
}

function toText(reading: ClockReading, device8: string): string {
  return `${reading.ms.toString(16).padStart(12, "0")}-${reading.count.toString(16).padStart(4, "0")}-${device8}`;
}
