import { stands_until } from "../../core/barn/stands.ts";
import type { Change } from "../../core/outlook/gates/change.ts";
import { day } from "./day.svelte.ts";
import { session } from "./session.svelte.ts";

/** Until when what is planned is the owner's alone to change, where this would change it; "" where it is free. */
export function stands(...changes: Change[]): string {
  const found = session.role === "owner" ? [] : changes.map((change) => stands_until(day.view, change));
  return found.sort().at(-1) ?? "";
}
