import type { Json } from "../events/events.ts";
import type { Picture, Voice } from "./media.ts";
import type {
  Bred, Check, DamLook, Gestation, HandOver, Kidded, KidLook, KidWeight, KitUse, TaskWord, Undated,
} from "./year_shapes.ts";

export type * from "./year_shapes.ts";

/** The farm as everything recorded so far says it is. */
export interface View {
  does: Record<string, Doe>;
  pens: Record<string, RecordRow>;
  feeds: Record<string, RecordRow>;
  lots: Record<string, RecordRow>;
  contacts: Record<string, RecordRow>;
  shelf: Record<string, RecordRow>;
  scoops: Record<string, RecordRow>;
  jars: Record<string, RecordRow>;
  packs: Record<string, RecordRow>;
  kids: Record<string, RecordRow>;
  kit: Record<string, RecordRow>;
  own_tasks: Record<string, RecordRow>;
  rules: Fields;
  rations: Record<string, Ration>;
  wishes: Wish[];
  /** Weighings of each scoop and lot, in the order they were made. */
  calibrations: Record<string, Calibration[]>;
  /** New bags of each feed, in the order they were opened. */
  bags: Record<string, Bag[]>;
  feedings: Feeding[];
  intakes: Intake[];
  notes: Note[];
  pictures: Picture[];
  voices: Voice[];
  weather: Weather[];
  water: Water[];
  rounds: Round[];
  kid_weights: KidWeight[];
  kit_uses: KitUse[];
  tasks: TaskWord[];
  hand_overs: HandOver[];
  questions: Question[];
  voided: Record<string, string>;
  parked: string[];
  /** Entries nobody can read: they change nothing. */
  aside: Aside[];
  /** Entries whose day nobody knows: asked about, and on no day until somebody has said it. */
  undated: Undated[];
}

export interface Aside {
  ev: string;
  kind: string;
  why: import("../events/readable.ts").Why;
}

/** f: values; stamp: the clock stamp each was written with; by: the event that wrote it. */
export interface Fields {
  f: Record<string, Json>;
  stamp: Record<string, string>;
  by: Record<string, string>;
}

export interface RecordRow extends Fields {
  id: string;
}

export interface Doe extends RecordRow {
  moves: [on: string, pen: string, ev: string][];
  pen: string;
  bred: Bred | null;
  check: { on: string; result: string; kids: number; aged_d: number; ev: string } | null;
  dried_on: string;
  kidded: Kidded | null;
  kiddings: number;
  left_on: string;
  freeze: Freeze | null;
  treatments: Treatment[];
  scores: [on: string, x100: number, author: string, ev: string][];
  weights: [on: string, g: number, how: string, ev: string][];
  milks: [on: string, g: number, slot: string, fat_x100: number, ev: string][];
  udder: [on: string, fill: number, uneven: boolean, author: string, ev: string, felt: string][];
  signs: [happened: number, seen: string[], absent: string[], author: string, ev: string, on: string][];
  checkups: Checkup[];
  triages: Triage[];
  got_into: GotInto[];
  kid_looks: KidLook[];
  afterbirths: [on: string, happened: number, seen: string, author: string, ev: string][];
  dam_looks: DamLook[];
  heats: [on: string, happened: number, what: string, author: string, ev: string][];
  services: { ev: string; from: string; to: string; how: string; buck: string; still?: boolean }[];
  dry_plan: { on: string; last_on: string; way: string; ev: string } | null;
  checks: Check[];
  /** When she was last found open, or kidded. */
  open_on: string;
  gestations: Gestation[];
}

/**
 * `since`: the first day of freezes without a day between; `out_on`: no grain since then; lifted: `until` is the day
 * before. `earlier`: those that were over before it.
 */
export interface Freeze {
  ev: string;
  hlc: string;
  on: string;
  since: string;
  until: string;
  grain_out: boolean;
  out_on: string;
  author: string;
  of: string;
  earlier?: [since: string, until: string, hlc: string][];
}
export interface Treatment {
  ev: string;
  on: string;
  author: string;
  product: string;
  told: string;
  why: string;
  who: string;
  milk_until: string;
  meat_until: string;
  carries: string[];
}

export interface Triage {
  ev: string;
  on: string;
  happened: number;
  author: string;
  of: string;
  new_feed: string;
  water_bad: string;
  bullied: string;
  suspect: string;
  result: string;
  left: string;
  passes: string;
  strains: string;
}

export interface Calibration {
  ev: string;
  on: string;
  happened: number;
  author: string;
  of: string;
  fills_g: number[];
  lot: string;
}

export interface Bag {
  ev: string;
  on: string;
  happened: number;
}

export interface Round {
  ev: string;
  subject: string;
  on: string;
  slot: string;
  happened: number;
  author: string;
  what: string;
  count: number;
  of: number;
}

/** 0 and "" are not looked at. */
export interface SeenOnHer {
  cud: string;
  dung: string;
  legs: string;
  eyes: number;
  udder: string;
  belly: string;
}

export type Checkup = [
  on: string, happened: number, temp_c_x10: number, bhb_x10: number, urine: string, author: string, ev: string,
  seen: SeenOnHer,
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
  marks: Mark[];
  hlc: string;
  ev: string;
}

/** What brought amounts from a date on: an act and what it promised (permille of need), or why one went on. */
export interface Mark {
  on: string;
  act: string;
  of: string;
  from_pm: number;
  to_pm: number;
  by_on: string;
  reason: string;
  ev: string;
}

/** A ration somebody wants who may not set it; declined: by whom, and with what word. */
export interface Wish {
  ev: string;
  subject: string;
  on: string;
  happened: number;
  author: string;
  slot: string;
  feed: string;
  reason: string;
  /** The act it is part of and what that promised, as a ration keeps it; "" where it stands by itself. */
  act: string;
  of: string;
  from_pm: number;
  to_pm: number;
  by_on: string;
  /** Where she is moved to for it; "" for what is given where she stands. */
  pen: string;
  steps: Step[];
  declined: { ev: string; by: string; word: string } | null;
}

/** Grain she helped herself to; `g` is null where nobody knows how much. */
export interface GotInto {
  ev: string;
  on: string;
  happened: number;
  author: string;
  feed: string;
  g: number | null;
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
