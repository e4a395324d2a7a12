import { SLOTS } from "../../core/events/kinds.ts";
import { amount_on } from "../../core/state/rations.ts";
import { day } from "../model/day.svelte.ts";
import { doesIn, nameOf, pens, rationsOf, shortly } from "../model/herd.ts";
import { infoOf, spokenAmount } from "../sentences/amounts.ts";
import type { Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";

export interface Meal {
  slot: string;
  said: string;
}
export interface PenRow {
  id: string;
  name: string;
  meals: Meal[];
  does: { doe: Doe; meals: Meal[] }[];
}

/** What the plan says of a doe or a pen on a day, meal by meal: in her container, with the weight. */
export function mealsOf(subject: string, on: string): Meal[] {
  const given = rationsOf(day.view, subject).map(({ slot, feed, steps }) => ({ slot, feed, g: amount_on(steps, on) }));
  return SLOTS.flatMap((slot) => {
    const here = given.filter((one) => one.slot === slot && one.g > 0);
    const said = here.map(({ feed, g }) => `${shortly(infoOf(feed).name)} ${spokenAmount(feed, g)}`).join(", ");
    return said ? [{ slot, said }] : [];
  });
}

export function penRows(on: string): PenRow[] {
  const all = [...pens(day.view).map((row) => ({ id: row.id, name: nameOf(row) })), { id: "", name: t("pen.none") }];
  return all.flatMap(({ id, name }) => {
    const does = doesIn(day.view, id).map((doe) => ({ doe, meals: mealsOf(doe.id, on) }));
    return does.length ? [{ id, name, meals: id ? mealsOf(id, on) : [], does }] : [];
  });
}
