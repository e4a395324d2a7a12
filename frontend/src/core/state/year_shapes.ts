import type { Envelope } from "../events/events.ts";

export type Undated = Pick<Envelope, "kind" | "subject" | "on" | "slot" | "happened" | "author"> & { ev: string };

interface Seen {
  ev: string;
  on: string;
  happened: number;
  author: string;
}

/** One of her kids, by its record, else by its number in this kidding; 0 and "" are not looked at. */
export interface KidLook extends Seen {
  kid: number;
  of: string;
  mouth: string;
  rectal_c_x10: number;
  swallows: string;
  fed: string;
  fed_g: number;
  up: string;
  belly: string;
  dead: boolean;
}

/** What was seen of a doe that has kidded; "" is not looked at. */
export interface DamLook extends Seen {
  drank: string;
  ate: string;
  halves: string;
  discharge: string;
  bright: string;
}

/** Of the kid whose record has that id. */
export interface KidWeight extends Seen {
  subject: string;
  g: number;
}

/** Of the kidding kit: so many of the thing with that id taken. `hlc` is the stamp it has beside those of its count. */
export interface KitUse extends Seen {
  subject: string;
  hlc: string;
  n: number;
}

/** What became of a task of the year: done, moved, skipped, or open again. */
export interface TaskWord extends Seen {
  subject: string;
  task: string;
  key: string;
  what: string;
  to_on: string;
  why: string;
}

/** Who looks at night from then on ("" for nobody), and the line that was left. */
export interface HandOver extends Seen {
  to: string;
  word: string;
}

/** A pregnancy check as it was said. */
export interface Check {
  on: string;
  result: string;
  kids: number;
  aged_d: number;
  how: string;
  ev: string;
}

/** Of a kidding whose service is known: the days she may have settled on, and the day she kidded. */
export interface Gestation {
  from: string;
  to: string;
  on: string;
  ev: string;
}

/**
 * Her service. `on`: its first day as it was said last; two dates of one service are a window from the first to the
 * last. `hlc`: when it was first written down; not in what an older server folded.
 */
export interface Bred {
  from: string;
  to: string;
  how: string;
  ev: string;
  on: string;
  hlc?: string;
  /** The buck is in, and `to` is the day that was said. */
  still?: boolean;
}

/** Her last kidding. `timed`: `at` is when the last kid came, not when it was written down; `hlc` as of a service. */
export interface Kidded {
  on: string;
  born: number;
  alive: number;
  timed: boolean;
  ev: string;
  at: number;
  hlc?: string;
}
