import { to_ask, type Asked } from "../../core/barn/shelf.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";

/** What the vet is still to be asked, with the dates this phone knows. */
export function asking(): Asked | null {
  const late_day = session.farm?.book.rules["late_day"];
  if (!late_day) return null;
  const dues = Object.keys(day.view.does).flatMap((id) =>
    [day.judged.doe(id)?.due].flatMap((due) => (due ? [[id, due.early]] : [])),
  );
  return to_ask(day.view, day.today, late_day, Object.fromEntries(dues) as Record<string, string>);
}
