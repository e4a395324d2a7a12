import { div } from "../../base/ints.ts";
import { LIMITS } from "../../tables/lab.ts";
import { figure, HUNDRED, ONE, ratio, tenths, type Figure } from "./numbers.ts";

/** Two columns to one. */
export const SHARES = ["cp", "ndf", "adf", "lignin", "fat", "ash", "tdn", "ca", "p"] as const;
export const ENERGIES = ["nel", "me"] as const;
export const UNITS = ["", "%", "ppm", "g_kg"] as const;
export const ENERGY_UNITS = ["", "mcal_lb", "mcal_kg", "mj_kg"] as const;
const OVER: Record<string, number> = { ppm: ONE, read_as_ppm: ONE, g_kg: 10 };

export type Remark = [code: string, field: string, value: string];
export type Column = Record<string, Figure>;
export type Texts = Record<string, string>;

/** A report while it is read: dry matter and figures in ten-thousandths of a per cent, remarks as they arise. */
export class Reading {
  dm: number | null = null;
  readonly dry: Record<string, number> = {};
  readonly problems: Remark[] = [];
  readonly notes: Remark[] = [];

  refuse(code: string, field = "", value = ""): void {
    this.problems.push([code, field, value]);
  }

  note(code: string, field = "", value = ""): void {
    this.notes.push([code, field, value]);
  }
}

/** Blanks are left out, anything else unreadable refuses the report. */
export function figures_of(column: Texts, reading: Reading): Column {
  const found: Column = {};
  for (const name of ["dm", "moisture", ...SHARES, ...ENERGIES]) {
    const text = (column[name] ?? "").trim();
    if (!text) continue;
    const written = figure(text);
    if (written) found[name] = written;
    else reading.refuse("unreadable", name);
  }
  return found;
}

export function in_per_cent(column: Column, units: Texts, reading: Reading): Column {
  const found: Column = {};
  for (const name of SHARES) if (column[name]) found[name] = per_cent(name, column[name], units[name] ?? "", reading);
  return found;
}

/** As said, or ppm for a mineral too large to be per cent. */
function unit_of(name: string, written: Figure, unit: string): string {
  const most = name === "ca" ? LIMITS.ca_most : name === "p" ? LIMITS.p_most : Infinity;
  return unit === "" && written.v > most ? "read_as_ppm" : unit;
}

function per_cent(name: string, written: Figure, unit: string, reading: Reading): Figure {
  const taken = unit_of(name, written, unit);
  const over = OVER[taken] ?? 1;
  if (!(UNITS as readonly string[]).includes(unit)) reading.refuse("unit_unknown", name);
  else if (over > 1 && !reading.notes.some(([code, field]) => code === taken && field === name))
    reading.note(taken, name);
  return { v: ratio(written.v, 1, over), slack: Math.max(1, div(written.slack, over)) };
}

/** As printed, from moisture, or from a figure both columns give. */
export function find_dry_matter(received: Column, shares: [Column, Column], reading: Reading): void {
  const { dm, moisture } = received;
  if (dm && moisture && Math.abs(dm.v + moisture.v - HUNDRED) > LIMITS.moisture_and_dm_slack)
    reading.refuse("moisture_and_dm");
  else if (dm) reading.dm = dm.v;
  else if (moisture && moisture.v < HUNDRED) {
    reading.dm = HUNDRED - moisture.v;
    reading.note("moisture_used");
  } else if (moisture) reading.refuse("over_100", "moisture");
  else dm_from_columns(shares, reading);
}

function dm_from_columns([received, dry]: [Column, Column], reading: Reading): void {
  const both = SHARES.filter((name) => received[name] && dry[name] && dry[name].v > 0);
  if (both.length) {
    // The largest figure is the one rounding touches least.
    const name = both.reduce((a, b) => (dry[b]!.v > dry[a]!.v || (dry[b]!.v === dry[a]!.v && b > a) ? b : a));
    reading.dm = ratio(received[name]!.v, HUNDRED, dry[name]!.v);
    reading.note("dm_from_columns", name);
  } else if (Object.keys(dry).length) reading.note("dm_unknown");
  else if (Object.keys(received).length) reading.refuse("no_dm");
}

/** Every share in dry matter: printed so, or turned; where both columns give it they must agree. */
export function to_dry_matter([received, dry]: [Column, Column], reading: Reading): void {
  for (const name of SHARES) {
    const [wet, printed] = [received[name], dry[name]];
    if (printed) {
      reading.dry[name] = printed.v;
      if (wet) compare(name, wet, printed, reading);
    } else if (wet && reading.dm) {
      reading.dry[name] = ratio(wet.v, HUNDRED, reading.dm);
      reading.note("from_as_received", name);
    } else if (wet && !reading.problems.some(([code]) => code === "no_dm")) reading.refuse("no_dm");
  }
}

function compare(name: string, wet: Figure, printed: Figure, reading: Reading): void {
  if (wet.v > printed.v + printed.slack) return reading.refuse("columns_swapped", name);
  if (!reading.dm) return;
  const turned = ratio(wet.v, HUNDRED, reading.dm);
  const allowed = ratio(printed.v, LIMITS.agree_pct, HUNDRED) + printed.slack + ratio(wet.slack, HUNDRED, reading.dm);
  if (Math.abs(turned - printed.v) > allowed) reading.refuse("columns_disagree", name, tenths(turned));
}
