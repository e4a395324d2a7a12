import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { t } from "../words/text.ts";

/** What the chip says: how much of what was recorded here the farm's server has. */
export function statusText(): string {
  const { kind, n, of, at } = session.status;
  return t(`status.${kind}${kind === "sent" && !at ? ".never" : ""}`, { n, of, at: at ? day.clock(at) : "" });
}
