import type { Envelope } from "../events/events.ts";
import { text, whole } from "../events/values.ts";

/** A picture's mark and what it is for; the picture itself is kept apart. */
export interface Picture {
  ev: string;
  subject: string;
  on: string;
  happened: number;
  author: string;
  what: string;
  sha256: string;
  w: number;
  h: number;
}

export interface Voice {
  ev: string;
  subject: string;
  on: string;
  happened: number;
  author: string;
  sha256: string;
  ms: number;
}

/** Pictures and recordings: their marks; what they show travels by itself. Twin of herd/state/media.py. */
export function picture_of({ id: ev, subject, on, happened, author, data }: Envelope): Picture {
  return {
    ev, subject, on, happened, author, what: text(data, "what"), sha256: text(data, "sha256"), w: whole(data, "w"),
    h: whole(data, "h"),
  };
}

export function voice_of({ id: ev, subject, on, happened, author, data }: Envelope): Voice {
  return { ev, subject, on, happened, author, sha256: text(data, "sha256"), ms: whole(data, "ms") };
}
