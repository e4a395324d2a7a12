import type { OutlookDoc } from "./ground/documents.ts";

/** The outlook of the whole herd: minerals and water over the last week. Made by herd/outlook/card/document.py. */
export const CARD = "card";

/** A feed's id, or "water", and micrograms a day for the whole herd. */
export type Source = [feed: string, ug_d: number];

export interface CardLine {
  el: string;
  ug_kg: number;
  target: number | null;
  most: number | null;
  st: "unknown" | "short" | "cannot_tell" | "level" | "over";
  sources: Source[];
  blank: string[];
  blank_pm: number;
}

export interface CardAlert {
  code: string;
  grade: "hard" | "red" | "amber";
  value: number;
  limit: number;
  at_least: boolean;
  sources: Source[];
}

export interface WaterFigure {
  what: string;
  ug_l: number;
  band: "green" | "amber" | "red" | "stop" | "unknown";
  ug_d: number;
}

export interface CardWater {
  on: string;
  place: string;
  drunk_l: number;
  tested: WaterFigure[];
  untested: string[];
}

export interface HerdCard extends OutlookDoc {
  schema: number;
  science: string;
  compiled_on: string;
  days: number;
  does: number;
  dm_g: number;
  grain_pm: number;
  stage: "late" | "milk";
  sheep: boolean;
  water: CardWater | null;
  lines: CardLine[];
  alerts: CardAlert[];
}
