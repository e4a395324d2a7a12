import { DAY_MS, dayOf, HOUR_MS, MIN_MS } from "../../base/days.ts";
import { compareText } from "../../events/order.ts";
import type { RecordRow, View } from "../../state/view.ts";
import { KIDDING_SPAN_H } from "../../tables/numbers.ts";

/** A kid of a litter: its record, with what a second record of the same kid says besides. */
export interface Line extends RecordRow {
  /** Which kid it is called. Its own `n` is what it was called where it was written down. */
  shown: number;
  /** Other records that are this kid. */
  others: string[];
}

/** When a kid came: to the minute where somebody tapped it, else the middle of its day. */
export function born_ms({ f }: RecordRow): number {
  const minutes = Number(f["born_min"] ?? 0);
  return minutes ? minutes * MIN_MS : dayOf(String(f["born_on"] ?? "")) * DAY_MS + DAY_MS / 2;
}

export const is_dead = ({ f }: RecordRow) => f["came"] === "dead";
export const written_n = ({ f }: RecordRow) => Number(f["n"] ?? 0);

/** The record that stands for a kid: another, where somebody said that both are one. */
export function stands_for(kids: View["kids"], id: string): string {
  const seen = [id];
  for (;;) {
    const next = String(kids[seen.at(-1)!]?.f["same"] ?? "");
    if (!next || next === seen.at(-1) || !kids[next]) return seen.at(-1)!;
    // two people who each named the other's record
    if (seen.includes(next)) return [...seen.slice(seen.indexOf(next))].sort()[0]!;
    seen.push(next);
  }
}

/** Her kids of one kidding, as they came. */
export function litter_of(view: View, dam: string, first_ms: number, last_ms = first_ms): Line[] {
  const span = KIDDING_SPAN_H * HOUR_MS;
  const rows = Object.values(view.kids)
    .filter((kid) => kid.f["dam"] === dam && written_n(kid) > 0)
    .filter((kid) => born_ms(kid) >= first_ms - span && born_ms(kid) <= last_ms + span);
  return numbered(joined(view.kids, rows));
}

function joined(kids: View["kids"], rows: RecordRow[]): Omit<Line, "shown">[] {
  const root = new Map(rows.map(({ id }) => [id, stands_for(kids, id)]));
  const there = new Set(root.keys());
  const is_own = ({ id }: RecordRow) => root.get(id) === id || !there.has(root.get(id)!);
  return rows.filter(is_own).map((row) => {
    const others = rows.filter(({ id }) => id !== row.id && root.get(id) === row.id);
    return { ...row, f: filled(row, others), others: others.map(({ id }) => id) };
  });
}

/** What only the second record says is not lost. */
function filled(row: RecordRow, others: RecordRow[]): RecordRow["f"] {
  const said = ({ f }: RecordRow) => Object.entries(f).filter(([, value]) => value !== "" && value !== 0);
  const { same: _, ...besides } = Object.fromEntries(others.flatMap(said));
  return others.length ? { ...besides, ...Object.fromEntries(said(row)) } : row.f;
}

/** By their own numbers; where two phones gave one number twice, by when they came. */
function numbered(rows: Omit<Line, "shown">[]): Line[] {
  const apart = new Set(rows.map(written_n)).size < rows.length;
  const by_time = (a: RecordRow, b: RecordRow) => born_ms(a) - born_ms(b) || compareText(a.id, b.id);
  const sorted = [...rows].sort((a, b) => (apart ? by_time(a, b) : written_n(a) - written_n(b)));
  return sorted.map((row, k) => ({ ...row, shown: apart ? k + 1 : written_n(row) }));
}
