import type { Data, Envelope, Json } from "./events.ts";
import { isKnown, RECORD_KINDS, SLOTS } from "./kinds.ts";
import { MOST_WHOLE, READS } from "../tables/forms.ts";
import { isMapping } from "./values.ts";

/**
 * What an entry must be made of before it counts. Not the limits a new entry is held to: those move, fields are added,
 * and this phone may be older than what it reads. Only what the fold relies on. Twin of herd/state/readable.py.
 */
export type Why = "" | "envelope" | "data" | "field" | "stopped";
type Fits = (value: Json | undefined) => boolean;
type Wanted = [name: string, fits: Fits][];

/** "envelope" when an entry cannot even be put in its place. */
export function envelope_fault(event: Envelope): Why {
  const { id, kind, subject, hlc, author, v, happened } = event;
  const told = is_text(id) && is_text(kind) && is_text(subject) && is_text(hlc) && is_text(author);
  const placed = is_date(event.on) && is_slot(event.slot) && Number.isSafeInteger(happened);
  return told && placed && Number.isSafeInteger(v) && !subject.includes("|") ? "" : "envelope";
}

/** Why content in the newest form of a known kind cannot be read; "" when it can. */
export function content_fault(kind: string, data: Json | undefined): Why {
  if (!isMapping(data)) return "data";
  return (RECORDS.has(kind) ? is_record(data) : has(FIELDS.get(kind)!, data)) ? "" : "field";
}

/** Whether an entry in its newest form counts as it is; one this build does not know waits, and does not. */
export function readable(event: Envelope): boolean {
  return !envelope_fault(event) && isKnown(event.kind, event.v) && !content_fault(event.kind, event.data);
}

export const is_slot: Fits = (value) => (SLOTS as readonly unknown[]).includes(value);

const dates = new Set<string>();
const DATE = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/;

/** Dates are few and asked about often. Not by Date, which takes a year before 100 for another. */
export function is_date(value: Json | undefined): value is string {
  if (typeof value !== "string") return false;
  if (dates.has(value)) return true;
  const [, year, month, day] = (DATE.exec(value) ?? []).map(Number) as [number?, number?, number?, number?];
  const fits = year! >= 1 && month! >= 1 && month! <= 12 && day! >= 1 && day! <= days_in(year!, month!);
  if (fits) dates.add(value);
  return fits;
}

function days_in(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

function is_record({ f, base }: Data): boolean {
  if (!isMapping(f) || !isMapping(base)) return false;
  return Object.values(f).every(is_value) && Object.values(base).every(is_text);
}

function is_text(value: Json | undefined): value is string {
  return typeof value === "string";
}

const is_whole: Fits = (value) => Number.isSafeInteger(value) && Math.abs(value as number) <= MOST_WHOLE;
const is_flag: Fits = (value) => typeof value === "boolean";
const is_codes: Fits = (value) => Array.isArray(value) && value.every(is_text);
const is_value: Fits = (value) =>
  value === null || is_text(value) || is_flag(value) || is_whole(value) || is_codes(value);

function has(wanted: Wanted, data: Data): boolean {
  for (const [name, fits] of wanted) if (!fits(data[name])) return false;
  return true;
}

/** Lines of meals are what there is most of: asked for by name, and not one by one. */
const ROWS = {
  lines: ({ to, feed, g }: Data) => is_text(to) && is_text(feed) && is_whole(g),
  steps: ({ on, g }: Data) => is_date(on) && is_whole(g),
  values: ({ what, printed, unit }: Data) => is_text(what) && is_text(printed) && is_text(unit),
};

function rows(fits: (row: Data) => boolean): Fits {
  return (value) => Array.isArray(value) && value.every((row) => isMapping(row) && fits(row));
}

const TYPES: Record<string, Fits> = {
  text: is_text, flag: is_flag, whole: is_whole, codes: is_codes, day: is_date, object: isMapping,
  until: (value) => value === "" || is_date(value),
  maybe: (value) => value === null || is_whole(value),
  wholes: (value) => Array.isArray(value) && value.every(is_whole),
  lines: rows(ROWS.lines), steps: rows(ROWS.steps), values: rows(ROWS.values),
};

function parsed(fields: string): Wanted {
  return fields.split(" ").filter(Boolean).map((field) => {
    const [name, type] = field.split(":") as [string, string];
    return [name, TYPES[type]!];
  });
}

const RECORDS = new Set<string>(RECORD_KINDS);
const FIELDS = new Map(Object.entries(READS).map(([kind, fields]) => [kind, parsed(fields)]));
