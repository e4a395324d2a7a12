import { to_ask, type Asked } from "../../core/barn/shelf.ts";
import { model } from "../model/model.svelte.ts";

/** What the vet is still to be asked, with the dates this phone knows. */
export function asking(): Asked | null {
  const late_day = model.farm?.book.rules["late_day"];
  if (!late_day) return null;
  const dues = Object.keys(model.view.does).flatMap((id) => [model.judged.doe(id)?.due].flatMap((due) => (due ? [[id, due.early]] : [])));
  return to_ask(model.view, model.today, late_day, Object.fromEntries(dues) as Record<string, string>);
}
