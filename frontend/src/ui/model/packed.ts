import { stays_beyond } from "../../core/barn/stays.ts";
import { day } from "./day.svelte.ts";
import { session } from "./session.svelte.ts";

/**
 * Whether the phone opens on a sitter's pack: while it is not known here yet, and as long as nobody took it away; of
 * somebody who is on the farm for longer, on its days alone.
 */
export function packed(): boolean {
  const { pack, stay, status, whole } = session;
  const row = day.view.packs[pack];
  if (!pack || !row) return pack !== "" && (!whole || !status.at);
  const [from_on, to_on] = [String(row.f["from_on"]), String(row.f["to_on"])];
  const on = day.today >= from_on && day.today <= to_on;
  return row.f["gone"] !== true && (on || !stays_beyond({ from_on, to_on }, stay));
}
