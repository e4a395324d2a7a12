import type { OutlookDoc } from "./sync/wire.ts";

/** The farm's thresholds and feeds as the server worked them out: the outlook that belongs to no doe. */
export interface BookFeed {
  name: string;
  class: string;
  dm_pm: number | null;
  me_kj_kg: number | null;
  cp_ug_g: number | null;
  ndf_pm: number | null;
  ca_ug_g: number | null;
  p_ug_g: number | null;
  cp_eq_ug_g: number | null;
  uip_pm?: number | null;
  me_sd_pm?: number;
  of?: string;
}

export interface Book extends OutlookDoc {
  schema: number;
  science: string;
  rules: Record<string, number>;
  feeds: Record<string, BookFeed>;
}

/** Before the first contact with the server there is none, and nothing is judged. */
export const NO_BOOK: Book = { schema: 0, science: "", doe: "", rev: 0, rules: {}, feeds: {} };
