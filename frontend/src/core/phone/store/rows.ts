import type { DBSchema } from "idb";
import type { ClockReading } from "../../base/clock.ts";
import type { Effective } from "../../events/events.ts";

/** waiting = only on this phone; ok and parked = in the farm's log; rejected = refused, kept until a person acts. */
export type RowState = "waiting" | "ok" | "parked" | "rejected";

export interface EventRow {
  id: string;
  /** Exactly what was serialised when it was recorded: the server hashes these bytes. */
  text: string;
  st: RowState;
  seq: number;
  eff: Effective | null;
  own: boolean;
  /**
   * When it was entered; once the server has spoken of it, when it last did, by its clock: a phone's may be years off.
   */
  aged_from: number;
  /** The server's word that it took this entry with these `eff`: shown to it once it was put back to an earlier day. */
  receipt?: string;
  /**
   * In the farm's log, and left out of the short list this phone last started from, because later entries replaced it.
   * Kept only to be offered again after a restore: folded with what the list does hold, it could say something new.
   */
  hidden?: boolean;
}

export interface OutboxRow {
  id: string;
  text: string;
  author: string;
  device: string;
  hlc: string;
  st: "waiting" | "rejected";
  code: string;
  why: string;
  /** Of an entry offered again after a restore: what shows that the server took it before, and with what values. */
  proof?: Proof;
  /** Brought here from another phone in a file. */
  carried?: true;
}

export interface Proof {
  receipt: string;
  eff: Effective | null;
}

/** `signed`: the server's word that it handed out this one, should it ever lose what came before. */
export interface Cursor {
  seq: number;
  outlook_rev: number;
  signed?: string;
}

export interface PersonRow {
  id: string;
  name: string;
  role: string;
  /** Was on the farm: the name stands beside what she recorded. */
  gone?: boolean;
  /** The pack by which she looks after the farm. */
  pack?: string;
  /** First and last day on the farm, of whoever is here for some. */
  starts_on?: string;
  ends_on?: string;
}

/** As text, read when somebody asks for it. Phones of before hold it in `doc`. */
export interface OutlookRow {
  doe: string;
  rev?: number;
  text?: string;
  doc?: unknown;
}

export interface Noted {
  at: number;
  what: string;
  detail: string;
}

export interface Meta {
  clock: ClockReading;
  cursor: Cursor;
  epoch: number;
  people: PersonRow[];
  scope: string;
  sent_at: number;
  server_now: number;
  ring: Noted[];
  born: string;
  /** Of the database whose content this one was filled with when it had taken its place. */
  was: string;
  min_app: string;
}

export interface FarmSchema extends DBSchema {
  events: { key: string; value: EventRow };
  outbox: { key: string; value: OutboxRow };
  outlooks: { key: string; value: OutlookRow };
  meta: { key: string; value: { key: string; value: unknown } };
  picture: { key: number; value: PictureRow };
  media: { key: string; value: MediaRow };
  unsent: { key: string; value: UnsentRow };
}

/** A picture or a recording, whole. Bytes and no Blob: some phones lose what stands behind a kept Blob. */
export interface MediaRow {
  sha256: string;
  type: string;
  content: ArrayBuffer;
}

/** One the server has not got; `code` once it has said that it will not have it. */
export interface UnsentRow {
  sha256: string;
  code: string;
}

/** A part of the picture of the last time, and what it was made from. */
export interface PictureRow {
  part: number;
  text: string;
  mark: string;
}

export type StoreName = "events" | "outbox" | "outlooks" | "meta" | "picture" | "media" | "unsent";

/** What a phone checks a PIN against without a signal. */
export interface Verifier {
  salt: string;
  rounds: number;
  hash: string;
}

/** Somebody who has signed in on this browser and not out again, as the server last said. */
export interface Seat {
  id: string;
  name: string;
  pin: Verifier | null;
}
