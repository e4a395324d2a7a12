import type { KiddingRow, PhaseRow, Sums, YearsDoc } from "../../core/outlook/years.ts";
import { heavy, score } from "../words/format.ts";
import { day } from "../model/day.svelte.ts";
import { t } from "../words/text.ts";
import type { Column } from "./columns_plot.ts";

export interface Kidded {
  on: string;
  row: KiddingRow;
}

/** One figure of many kiddings, each beside the other: what it is, and its words in order. */
export interface Row {
  head: string;
  cells: string[];
}

/** Rows under a head of their own; the first may have none. */
export interface Part {
  of: string;
  rows: Row[];
}

const UNKNOWN = "–";
const a_day = (g: number, days: number) => (days > 0 ? day.amount(Math.round(g / days)) : UNKNOWN);
const scored = (x100: number) => (x100 < 0 ? UNKNOWN : score(x100));
const row_head = (name: string) => t(`back.row.${name}`);

export function kiddings_of(doc: YearsDoc, doe: string): Kidded[] {
  const place = doc.does.findIndex(([id]) => id === doe);
  return doc.rows.filter((row) => row[0] === place).map((row) => ({ on: row[1], row }));
}

/** Days with feed beside days there were, so that nobody takes a third of a winter for all of it. */
const covered = ([length_d, days]: PhaseRow) => t("back.days_of", { n: days, of: length_d });
const share = ([, , , , legume_pm]: PhaseRow) => (legume_pm < 0 ? UNKNOWN : `${Math.round(legume_pm / 10)} %`);

function phase_part(kidded: Kidded[], n: 0 | 1 | 2, name: string): Part {
  const of = (head: string, each: (phase: PhaseRow) => string): Row => ({
    head: row_head(head), cells: kidded.map(({ row }) => each(row[14][n])),
  });
  return {
    of: t(`back.phase.${name}`),
    rows: [
      of("hay", (phase) => a_day(phase[2], phase[1])), of("grain", (phase) => a_day(phase[3], phase[1])),
      of("legume", share), of("days", covered),
    ],
  };
}

export function side_by_side(kidded: Kidded[]): Part[] {
  const of = (head: string, each: (row: KiddingRow) => string): Row => ({
    head: row_head(head), cells: kidded.map(({ row }) => each(row)),
  });
  const rows = [
    of("kids", (row) => t("back.alive_of", { n: row[3], of: row[2] })),
    of("birth", (row) => (row[4] ? heavy(Math.round(row[5] / row[4]), day.units) : UNKNOWN)),
    of("help", (row) => (row[6] < 0 ? UNKNOWN : t(`back.help.${row[6]}`))),
    of("ill", (row) => (row[7] < 0 ? UNKNOWN : t(`back.ill.${row[7]}`))),
    of("bred", (row) => scored(row[8])),
    of("dry", (row) => scored(row[9])),
    of("kid", (row) => scored(row[10])),
    of("length", (row) => (row[11] ? String(row[11]) : UNKNOWN)),
    of("milk", (row) => (row[12] < 0 ? UNKNOWN : heavy(row[12], day.units))),
  ];
  return [
    { of: "", rows }, phase_part(kidded, 0, "early"), phase_part(kidded, 1, "late"), phase_part(kidded, 2, "fresh"),
  ];
}

export const month_of = ({ on }: Kidded) => `${t(`month.${Number(on.slice(5, 7))}`)} ${on.slice(0, 4)}`;

/** Feed a day from breeding to kidding. */
export function columns_of(kidded: Kidded[]): Column[] {
  return kidded.map(({ on, row }) => {
    const [early, late] = row[14];
    const days = early[1] + late[1];
    const mean = (part: 2 | 3) => (days ? Math.round((early[part] + late[part]) / days) : -1);
    return {
      label: on.slice(0, 4), hay_g: mean(2), grain_g: mean(3), scores: [row[8], row[9], row[10]],
      alive: row[3], dead: Math.max(0, row[2] - row[3]),
    };
  });
}

export function columns_of_years(doc: YearsDoc): Column[] {
  return doc.years.map(([year, ...sums]) => ({
    label: String(year), hay_g: mean(sums, 11), grain_g: mean(sums, 12), scores: [], alive: 0, dead: 0,
  }));
}

const mean = (sums: Sums, part: 11 | 12) => (sums[10] ? Math.round(sums[part] / sums[10]) : -1);

export function year_rows(doc: YearsDoc): Row[] {
  const of = (head: string, each: (sums: Sums) => string): Row => ({
    head: row_head(head), cells: doc.years.map(([, ...sums]) => each(sums)),
  });
  return FIGURES.slice(1).map(([head, each]) => of(head, each));
}

/** A row a line: there are more lines than figures. */
export function line_rows(doc: YearsDoc, names: (line: string) => string): { heads: string[]; rows: Row[] } {
  return {
    heads: FIGURES.map(([head]) => row_head(head)),
    rows: doc.lines.map(({ line, sums }) => ({ head: names(line), cells: FIGURES.map(([, each]) => each(sums)) })),
  };
}

const FIGURES: [head: string, each: (sums: Sums) => string][] = [
  ["does", (sums) => String(sums[1])],
  ["kiddings", (sums) => String(sums[0])],
  ["kids", (sums) => t("back.alive_of", { n: sums[3], of: sums[2] })],
  ["birth", (sums) => (sums[4] ? heavy(Math.round(sums[5] / sums[4]), day.units) : UNKNOWN)],
  ["helped", (sums) => (sums[6] ? t("back.of", { n: sums[7], of: sums[6] }) : UNKNOWN)],
  ["ills", (sums) => (sums[8] ? t("back.of", { n: sums[9], of: sums[8] }) : UNKNOWN)],
  ["hay", (sums) => a_day(sums[11], sums[10])],
  ["grain", (sums) => a_day(sums[12], sums[10])],
  ["legume", (sums) => (sums[11] ? `${Math.round((100 * sums[13]) / sums[11])} %` : UNKNOWN)],
];
