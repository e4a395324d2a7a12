import { back_stands_until, stands_until } from "../../core/barn/stands.ts";
import type { Change } from "../../core/outlook/gates/change.ts";
import { t } from "../words/text.ts";
import { day } from "./day.svelte.ts";
import { ownerName } from "./owner.ts";
import { session } from "./session.svelte.ts";

/** Until when what is planned is the owner's alone to change, where this would change it; "" where it is free. */
export function stands(...changes: Change[]): string {
  const found = session.role === "owner" ? [] : changes.map((change) => stands_until(day.view, change));
  return found.sort().at(-1) ?? "";
}

/** The same where rations are taken back, or count again; of all other entries "". */
export function backStands(ids: string[], again = false): string {
  if (session.role === "owner") return "";
  const plans = ids.filter((id) => session.farm?.event(id)?.kind === "ration");
  if (!plans.length || !Object.keys(day.view.packs).length) return "";
  const links = again ? plans.flatMap((id) => day.view.voided[id] ?? []) : plans;
  return back_stands_until(day.view, session.events(() => true), links);
}

export const standsSaid = (until: string): string =>
  t("stands.ask", { on: day.spoken(until), owner: ownerName() });
