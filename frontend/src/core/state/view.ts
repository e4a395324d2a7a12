import type { Json } from "../events.ts";

/** The farm as everything recorded so far says it is. */
export interface View {
  does: Record<string, Doe>;
  pens: Record<string, Place>;
  feeds: Record<string, Place>;
  lots: Record<string, Place>;
  rules: Fields;
  rations: Record<string, Ration>;
  feedings: Feeding[];
  intakes: Intake[];
  notes: Note[];
  weather: Weather[];
  water: Water[];
  questions: Question[];
  voided: Record<string, string>;
  parked: string[];
}

/** f: values; stamp: the clock stamp each was written with; by: the event that wrote it. */
export interface Fields {
  f: Record<string, Json>;
  stamp: Record<string, string>;
  by: Record<string, string>;
}

export interface Place extends Fields {
  id: string;
}

export interface Doe extends Place {
  moves: [on: string, pen: string][];
  pen: string;
  bred: { from: string; to: string; how: string; ev: string } | null;
  check: { on: string; result: string; kids: number; ev: string } | null;
  dried_on: string;
  kidded: { on: string; born: number; alive: number; ev: string } | null;
  kiddings: number;
  left_on: string;
  scores: [on: string, x100: number, author: string, ev: string][];
  weights: [on: string, g: number, how: string, ev: string][];
  milks: [on: string, g: number, slot: string, fat_x100: number, ev: string][];
  udder: [on: string, fill: number, uneven: boolean, author: string, ev: string][];
  signs: [happened: number, seen: string[], absent: string[], author: string, ev: string][];
  checkups: Checkup[];
}

export type Checkup = [
  on: string, happened: number, temp_c_x10: number, bhb_x10: number, urine: string, author: string, ev: string,
];
export type Weather = [on: string, low_c: number, wet: boolean, ev: string];

/** A water test, values as printed. */
export interface Water {
  ev: string;
  on: string;
  place: string;
  drunk_l: number;
  values: [what: string, printed: string, unit: string][];
}

export type Step = [on: string, g: number];

export interface Ration {
  subject: string;
  slot: string;
  feed: string;
  steps: Step[];
  hlc: string;
  ev: string;
}

export type Line = [to: string, feed: string, g: number];

export interface Feeding {
  ev: string;
  subject: string;
  on: string;
  slot: string;
  happened: number;
  author: string;
  adds: boolean;
  lines: Line[];
}

export interface Intake {
  ev: string;
  subject: string;
  on: string;
  slot: string;
  happened: number;
  author: string;
  how: string;
  left_pm: number;
  feed: string;
}

export interface Note {
  ev: string;
  subject: string;
  on: string;
  happened: number;
  author: string;
  text: string;
}

export interface Side {
  value: Json;
  stamp: string;
  ev: string;
}

export interface Question {
  kind: string;
  subject: string;
  field: string;
  values: Side[];
}
