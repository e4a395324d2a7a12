import { day } from "./day.svelte.ts";
import { session } from "./session.svelte.ts";

/** Whether the phone opens on a sitter's pack: while it is not known here yet, and as long as nobody took it away. */
export function packed(): boolean {
  const row = day.view.packs[session.pack];
  return session.pack !== "" && (!session.whole || !session.status.at || Boolean(row && row.f["gone"] !== true));
}
