/** Dates are "YYYY-MM-DD" of the farm's zone; arithmetic is on whole days, so no hour ever moves a date. */
const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;
export const DAY_MS = 86_400_000;
// 0001-01-01 and 9999-12-31
const [FIRST_DAY, LAST_DAY] = [-719_162, 2_932_896];
export const MIN_MS = 60_000;
export const HOUR_MS = 3_600_000;

export function isDate(text: unknown): text is string {
  return typeof text === "string" && DATE.test(text) && dateOf(dayOf(text)) === text;
}

/** Days since 1970-01-01. */
export function dayOf(date: string): number {
  const parts = DATE.exec(date);
  if (!parts) return Number.NaN;
  return Math.floor(Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3])) / DAY_MS);
}

/** Before the first date and after the last there is none: what would lie there is that one. */
export function dateOf(day: number): string {
  if (!Number.isSafeInteger(day)) return "";
  return new Date(Math.min(Math.max(day, FIRST_DAY), LAST_DAY) * DAY_MS).toISOString().slice(0, 10);
}

export function addDays(date: string, days: number): string {
  return dateOf(dayOf(date) + days);
}

export interface Instant {
  date: string;
  hour: number;
  minute: number;
}

/** A stretch of time in which the zone's clocks stand still against UTC. */
export interface Span {
  from: number;
  to: number;
  offset_ms: number;
}

/** The farm's own day and hour, whatever zone the phone believes it is in. */
export class FarmZone {
  readonly #zone: Zone;

  constructor(name: string) {
    this.#zone = zoneOf(name);
  }

  /** To the minute. */
  at(ms: number): Instant {
    const { span, known } = this.#zone;
    if (span && ms >= span.from && ms < span.to) return instantAt(ms + span.offset_ms);
    const minute = Math.floor(ms / MIN_MS);
    let found = known.get(minute);
    if (!found) {
      if (known.size > MOST_KNOWN) known.clear();
      known.set(minute, (found = asked(this.#zone, ms)));
    }
    return found;
  }

  dateAt(ms: number): string {
    return this.at(ms).date;
  }

  hourAt(ms: number): number {
    return this.at(ms).hour;
  }

  /** The days around, as far as no clock is changed in them: kept, they spare the next opening its first question. */
  spanAround(ms: number): Span {
    const offset_ms = this.#offset(ms);
    const hour = Math.floor(ms / HOUR_MS) * HOUR_MS;
    const middle = this.#offset(hour) === offset_ms ? hour : ms;
    let [from, to] = [middle, middle];
    while (from > middle - SPAN_MS && this.#offset(from - STEP_MS) === offset_ms) from -= STEP_MS;
    while (to < middle + SPAN_MS && this.#offset(to + STEP_MS) === offset_ms) to += STEP_MS;
    return { from, to, offset_ms };
  }

  trust(span: Span): void {
    this.#zone.span = span;
  }

  #offset(ms: number): number {
    const { date, hour, minute } = this.at(ms);
    return dayOf(date) * DAY_MS + hour * HOUR_MS + minute * MIN_MS - Math.floor(ms / MIN_MS) * MIN_MS;
  }
}

/**
 * To make a format takes a slow phone as long as drawing twenty rows, and to ask it for a time as long as half a row:
 * it is made when it is needed, and not asked twice.
 */
interface Zone {
  name: string;
  format: Intl.DateTimeFormat | null;
  known: Map<number, Instant>;
  span: Span | null;
}
const ZONES = new Map<string, Zone>();
/** No zone changes its clocks and changes them back within a step. */
const [SPAN_MS, STEP_MS] = [4 * DAY_MS, DAY_MS / 2];
const MOST_KNOWN = 500;

function zoneOf(name: string): Zone {
  let found = ZONES.get(name);
  if (!found) ZONES.set(name, (found = { name, format: null, known: new Map(), span: null }));
  return found;
}

function asked(zone: Zone, ms: number): Instant {
  zone.format ??= new Intl.DateTimeFormat("en-CA", {
    timeZone: zone.name, hourCycle: "h23", year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit",
    minute: "2-digit",
  });
  const part = Object.fromEntries(zone.format.formatToParts(ms).map(({ type, value }) => [type, value]));
  const date = `${part["year"]!.padStart(4, "0")}-${part["month"]}-${part["day"]}`;
  return { date, hour: Number(part["hour"]), minute: Number(part["minute"]) };
}

function instantAt(local_ms: number): Instant {
  const minutes = Math.floor(local_ms / MIN_MS);
  return { date: dateOf(Math.floor(local_ms / DAY_MS)), hour: Math.floor(minutes / 60) % 24, minute: minutes % 60 };
}
