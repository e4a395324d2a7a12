import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { t } from "../words/text.ts";

/** A phone that never heard the farm out has nothing to say of what is sent. */
export const kindSaid = (): string => {
  const { kind, at } = session.status;
  if (kind !== "sent") return kind;
  return !at ? "sent.never" : session.pictures ? "pictures" : kind;
};

/** What the chip says: how much of what was recorded here the farm's server has. */
export function statusText(): string {
  const { n: entries, of, at, kind } = session.status;
  const n = entries || session.pictures;
  const key = kind === "locked" && !n ? "locked.none" : kindSaid();
  return t(`status.${key}`, { n, of, at: at ? day.clock(at) : "" });
}
