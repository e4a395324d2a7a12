/** Dates are "YYYY-MM-DD" of the farm's zone; arithmetic is on whole days, so no hour ever moves a date. */
const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;
const DAY_MS = 86_400_000;

export function isDate(text: unknown): text is string {
  return typeof text === "string" && DATE.test(text) && dateOf(dayOf(text)) === text;
}

/** Days since 1970-01-01. */
export function dayOf(date: string): number {
  const parts = DATE.exec(date);
  if (!parts) return Number.NaN;
  return Math.floor(Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3])) / DAY_MS);
}

export function dateOf(day: number): string {
  return Number.isSafeInteger(day) ? new Date(day * DAY_MS).toISOString().slice(0, 10) : "";
}

export function addDays(date: string, days: number): string {
  return dateOf(dayOf(date) + days);
}

export interface Instant {
  date: string;
  hour: number;
  minute: number;
}

/** The farm's own day and hour, whatever zone the phone believes it is in. */
export class FarmZone {
  readonly #parts: Intl.DateTimeFormat;

  constructor(zone: string) {
    this.#parts = formatOf(zone);
  }

  at(ms: number): Instant {
    const part = Object.fromEntries(this.#parts.formatToParts(ms).map(({ type, value }) => [type, value]));
    const date = `${part["year"]!.padStart(4, "0")}-${part["month"]}-${part["day"]}`;
    return { date, hour: Number(part["hour"]), minute: Number(part["minute"]) };
  }

  dateAt(ms: number): string {
    return this.at(ms).date;
  }

  hourAt(ms: number): number {
    return this.at(ms).hour;
  }
}

/** To make one takes a phone as long as drawing ten rows. */
const FORMATS = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  let found = FORMATS.get(zone);
  if (!found) {
    found = new Intl.DateTimeFormat("en-CA", {
      timeZone: zone, hourCycle: "h23", year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit",
    });
    FORMATS.set(zone, found);
  }
  return found;
}
