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
  readonly #zone: Zone;

  constructor(name: string) {
    this.#zone = zoneOf(name);
  }

  /** To the minute. */
  at(ms: number): Instant {
    const { format, known } = this.#zone;
    const minute = Math.floor(ms / MINUTE_MS);
    let found = known.get(minute);
    if (!found) {
      if (known.size > MOST_KNOWN) known.clear();
      known.set(minute, (found = instantOf(format.formatToParts(ms))));
    }
    return found;
  }

  dateAt(ms: number): string {
    return this.at(ms).date;
  }

  hourAt(ms: number): number {
    return this.at(ms).hour;
  }
}

/** To make a format takes a phone as long as drawing ten rows, and to ask it for a time as long as half a row. */
interface Zone {
  format: Intl.DateTimeFormat;
  known: Map<number, Instant>;
}
const ZONES = new Map<string, Zone>();
const MINUTE_MS = 60_000;
const MOST_KNOWN = 500;

function zoneOf(name: string): Zone {
  let found = ZONES.get(name);
  if (!found) {
    const format = new Intl.DateTimeFormat("en-CA", {
      timeZone: name, hourCycle: "h23", year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit",
    });
    ZONES.set(name, (found = { format, known: new Map() }));
  }
  return found;
}

function instantOf(parts: Intl.DateTimeFormatPart[]): Instant {
  const part = Object.fromEntries(parts.map(({ type, value }) => [type, value]));
  const date = `${part["year"]!.padStart(4, "0")}-${part["month"]}-${part["day"]}`;
  return { date, hour: Number(part["hour"]), minute: Number(part["minute"]) };
}
