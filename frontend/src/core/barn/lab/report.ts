import { check_report } from "./checks.ts";
import {
  figures_of, find_dry_matter, in_per_cent, Reading, to_dry_matter, type Column, type Remark, type Texts,
} from "./columns.ts";
import { settle_tdn } from "./energy.ts";
import { whole } from "./numbers.ts";

/** A laboratory report, as printed, to the figures a feed or a lot keeps. */
export interface Report {
  received: Texts;
  dry: Texts;
  units: Texts;
  kind: string;
  cured: boolean;
  tdn_by: string;
}

/** Fields for a feed or lot record, empty when refused; problems refuse, notes explain how a figure was read. */
export interface Outcome {
  fields: Record<string, number>;
  tdn_by: string;
  problems: Remark[];
  notes: Remark[];
}

/** Field on the record, figure of the report, ten-thousandths in one step of the field. */
const FIELDS = [
  ["tdn_pct_x10", "tdn", 1000], ["cp_pct_x10", "cp", 1000], ["ndf_pct_x10", "ndf", 1000],
  ["ca_pct_x100", "ca", 100], ["p_pct_x100", "p", 100],
] as const;
export const KINDS = ["legume", "grass", "mixed", "corn_silage", "grain", "other"] as const;

export function read_report({ received, dry, units, kind, cured, tdn_by }: Report): Outcome {
  const reading = new Reading();
  const columns: [Column, Column] = [figures_of(received, reading), figures_of(dry, reading)];
  const shares: [Column, Column] = [in_per_cent(columns[0], units, reading), in_per_cent(columns[1], units, reading)];
  if (columns.every((column) => Object.keys(column).length === 0) && !reading.problems.length)
    reading.refuse("no_figures");
  find_dry_matter(columns[0], shares, reading);
  to_dry_matter(shares, reading);
  const way = settle_tdn(columns, units, kind, tdn_by, reading);
  check_report(kind, cured, reading);
  const { problems, notes } = reading;
  return problems.length
    ? { fields: {}, tdn_by: "unknown", problems, notes: [] }
    : { fields: fields_of(reading), tdn_by: way, problems, notes };
}

function fields_of({ dm, dry }: Reading): Record<string, number> {
  const found: Record<string, number> = dm === null ? {} : { dm_pct_x10: whole(dm, 1000) };
  for (const [name, of, step] of FIELDS) if (dry[of] !== undefined) found[name] = whole(dry[of], step);
  return found;
}
