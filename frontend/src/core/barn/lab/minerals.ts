import { MAJORS, TRACES } from "../../tables/forms.ts";
import { LIMITS } from "../../tables/lab.ts";
import type { Remark, Texts } from "./columns.ts";
import { figure, HUNDRED, ONE, ratio, whole } from "./numbers.ts";

/**
 * The other minerals of a report or a label: majors kept in hundredths of a per cent, traces in hundredths of a ppm.
 * One column, since nobody balances with them: dry matter as printed, or as received turned by the dry matter.
 */
export interface Minerals {
  fields: Record<string, number>;
  problems: Remark[];
}

const STEP = 100;
/** What one of a unit is in per cent, as a ratio. */
const IN_PER_CENT: Record<string, [times: number, over: number]> = { "%": [1, 1], ppm: [1, ONE], g_kg: [1, 10] };

export const isMajor = (name: string): name is (typeof MAJORS)[number] => (MAJORS as readonly string[]).includes(name);
export const fieldOf = (name: string): string => `${name}_${isMajor(name) ? "pct" : "ppm"}_x100`;
/** The unit such a line is printed in when nothing is said. */
export const usualUnit = (name: string): string => (isMajor(name) ? "%" : "ppm");

/**
 * `dm`: per cent x 10, when the figures are as received and have to be turned; null when they need not be or cannot.
 */
export function read_minerals(received: Texts, dry: Texts, units: Texts, dm_x10: number | null): Minerals {
  const found: Minerals = { fields: {}, problems: [] };
  for (const name of [...MAJORS, ...TRACES]) {
    const [wet, printed] = [(received[name] ?? "").trim(), (dry[name] ?? "").trim()];
    if (wet || printed) read_one(name, printed || wet, !printed, units[name] || usualUnit(name), dm_x10, found);
  }
  return found;
}

function read_one(
  name: string, text: string, wet: boolean, unit: string, dm_x10: number | null, found: Minerals,
): void {
  const written = figure(text);
  const [times, over] = IN_PER_CENT[unit] ?? [0, 1];
  if (!written) return void found.problems.push(["unreadable", name, ""]);
  if (!times) return void found.problems.push(["unit_unknown", name, ""]);
  if (wet && !dm_x10) return void found.problems.push(["no_dm", "", ""]);
  const in_unit = wet ? ratio(written.v, 1000, dm_x10!) : written.v;
  // A trace stays in ppm: per cent of it has too few digits.
  const v = isMajor(name) ? ratio(in_unit, times, over) : ratio(in_unit, times * ONE, over);
  const most = isMajor(name) ? LIMITS[`${name}_most`] : HUNDRED * ONE;
  if (v > most) found.problems.push(["mineral_impossible", name, text]);
  else found.fields[fieldOf(name)] = whole(v, STEP);
}
