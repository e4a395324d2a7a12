import type { Clock } from "../base/clock.ts";
import { newId } from "../base/ids.ts";
import { VERSIONS, type Kind, type Slot } from "./kinds.ts";

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
export type Data = { [key: string]: Json };

/** One fact somebody recorded, as it travels. */
export interface Envelope {
  id: string;
  kind: string;
  v: number;
  subject: string;
  on: string;
  slot: string;
  happened: number;
  entered: number;
  hlc: string;
  author: string;
  device: string;
  data: Data;
  /** Never sent: its clock was so wrong that nobody can tell the day, until somebody says it. */
  odd?: 1;
}

/** What the server put right because a phone's clock was off. */
export type Effective = Partial<Pick<Envelope, "happened" | "on" | "hlc" | "odd">>;

export interface Draft {
  kind: Kind;
  subject: string;
  data: Data;
  on: string;
  slot: Slot;
  happened: number;
}

export interface Pen {
  author: string;
  device: string;
  clock: Clock;
  now: number;
  random: (bytes: number) => Uint8Array;
}

export function makeEvent(draft: Draft, pen: Pen): Envelope {
  return {
    id: newId(pen.now, pen.random), kind: draft.kind, v: VERSIONS[draft.kind], subject: draft.subject, on: draft.on,
    slot: draft.slot, happened: draft.happened, entered: pen.now, hlc: pen.clock.tick(pen.now),
    author: pen.author, device: pen.device, data: draft.data,
  };
}

export function effective(event: Envelope, eff: Effective | null): Envelope {
  return eff ? { ...event, ...eff } : event;
}
