import type { OutlookDoc } from "./ground/documents.ts";

/** What the years on the farm have shown. Made by herd/outlook/years/document.py, read from the whole log at night. */
export const YEARS = "years";

/** -1 is not known; legume is permille of the hay. */
export type PhaseRow = [length_d: number, days: number, hay_g: number, grain_g: number, legume_pm: number];

/** One kidding. `doe` is a place in `does`; help: 0 none to 3 the vet; ill: 0 no, 1 ketosis, 2 milk fever, 3 both. */
export type KiddingRow = [
  doe: number, on: string, born: number, alive: number, weighed: number, birth_g: number, help: number, ill: number,
  bred_x100: number, dry_x100: number, kid_x100: number, length_d: number, milk_g: number, milk_days: number,
  phases: [early: PhaseRow, late: PhaseRow, fresh: PhaseRow],
];

export type Sums = [
  kiddings: number, does: number, born: number, alive: number, weighed: number, birth_g: number, help_known: number,
  helped: number, ill_known: number, ill: number, days: number, hay_g: number, grain_g: number, legume_g: number,
];

/** Permille of what is usual here, its error, kiddings and seasons behind it, and whether that is enough to say it. */
export type Keeper = [away_pm: number, error_pm: number, n: number, seasons: number, said: number];

export interface LineRow {
  line: string;
  sums: Sums;
  fed_g: number;
  keeper?: Keeper;
}

export interface Told {
  measure: "grain" | "hay" | "legume";
  end: "alive" | "unhelped" | "well";
  cut: number;
  sides: [more_n: number, more_good: number, less_n: number, less_good: number];
  say: "few" | "none" | "clear";
}

export interface SignRow {
  sign: string;
  n: number;
  assumed_min: number;
  own_min: number;
  median_min: number;
  p10_min: number;
  p90_min: number;
  shows_pm: number;
  looked: number;
  enough: boolean;
}

export interface LengthRow {
  group: string;
  n: number;
  assumed_x10: number;
  own_x10: number;
  mean_x10: number;
  sd_x10: number;
  enough: boolean;
}

export interface YearsDoc extends OutlookDoc {
  schema: number;
  science: string;
  compiled_on: string;
  kiddings: number;
  /** The numbers it was judged by: herd/outlook/tables/years.toml. */
  by: Record<string, number>;
  does: [doe: string, line: string][];
  rows: KiddingRow[];
  years: [year: number, ...Sums][];
  lines: LineRow[];
  told: Told[];
  signs: SignRow[];
  lengths: LengthRow[];
}
