import type { OutlookDoc } from "./documents.ts";

/** The farm's thresholds and feeds as the server worked them out: the outlook that belongs to no doe. */
export interface BookFeed {
  name: string;
  class: string;
  dm_pm: number | null;
  /** Where its dry matter is that of the feed usual for its class: of which. */
  dm_of?: string;
  me_kj_kg: number | null;
  cp_ug_g: number | null;
  ndf_pm: number | null;
  ca_ug_g: number | null;
  p_ug_g: number | null;
  cp_eq_ug_g: number | null;
  uip_pm?: number | null;
  me_sd_pm?: number;
  /** She takes it where it grows: nothing is wasted at a feeder, and how much she took is a guess. */
  grazed?: number;
  /** A level litre of it, and the range such feeds run in; a starting guess. */
  l_g?: number;
  l_low_g?: number;
  l_high_g?: number;
  /** Sprouts: what the whole tray weighs by the mass balance. */
  tray_g?: number;
  of?: string;
}

/** Log of what a look found, in thousandths, at each point of `lead_min`; `new` for each of `gaps_h`. */
export interface SignTable {
  present: number[];
  absent: number[];
  new: number[][];
}

/** Signs of kidding as tables; its twin is herd/outlook/shapes.py. */
export interface Signs {
  lead_min: number[];
  gaps_h: number[];
  /** e to the minus 1, 2, 4, 8... thousandths. */
  exp_ppb: number[];
  least_pct: number;
  most_pct: number;
  of: Record<string, SignTable>;
  /** Signs whose timing is the farm's own; not in what an older server compiled. */
  own?: Record<string, [kiddings: number, median_min: number]>;
}

export interface Book extends OutlookDoc {
  schema: number;
  science: string;
  rules: Record<string, number>;
  /** light, half, full: share of appetite and its spread, permille. */
  grazing?: Record<string, [share_pm: number, spread_pm: number]>;
  /** Not in what an older server compiled. */
  signs?: Signs;
  feeds: Record<string, BookFeed>;
}

/** Before the first contact with the server there is none, and nothing is judged. */
export const NO_BOOK: Book = { schema: 0, science: "", doe: "", rev: 0, rules: {}, feeds: {} };
