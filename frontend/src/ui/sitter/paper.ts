import { SLOTS } from "../../core/events/kinds.ts";
import { amount_on } from "../../core/state/planned.ts";
import { day } from "../model/day.svelte.ts";
import { doesIn, nameOf, pens, rationsOf, shortly } from "../model/herd.ts";
import { infoOf } from "../sentences/amounts.ts";
import type { Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";
import { handSaid } from "./words.ts";

/** What is given at one meal, or at several alike: "Morning, Evening". */
export interface Meal {
  slots: string;
  said: string;
}
export interface PenRow {
  id: string;
  name: string;
  meals: Meal[];
  does: { doe: Doe; meals: Meal[] }[];
}

function amount(feed: string, g: number): string {
  const { hand, weight } = handSaid(feed, g);
  return `${shortly(infoOf(feed).name)} ${weight ? t("measure.spoken", { hand, g: weight }) : hand}`;
}

/** What the plan says of a doe or a pen on a day: in her container, with the weight, most first. */
export function mealsOf(subject: string, on: string): Meal[] {
  const given = rationsOf(day.view, subject).map(({ slot, feed, steps }) => ({ slot, feed, g: amount_on(steps, on) }));
  const alike = new Map<string, string[]>();
  for (const slot of SLOTS) {
    const here = given.filter((one) => one.slot === slot && one.g > 0).sort((a, b) => b.g - a.g);
    const said = here.map(({ feed, g }) => amount(feed, g)).join(", ");
    if (said) alike.set(said, [...(alike.get(said) ?? []), t(`slot.${slot}`)]);
  }
  return [...alike].map(([said, slots]) => ({ said, slots: slots.join(", ") }));
}

export function penRows(on: string): PenRow[] {
  const all = [...pens(day.view).map((row) => ({ id: row.id, name: nameOf(row) })), { id: "", name: t("pen.none") }];
  return all.flatMap(({ id, name }) => {
    const does = doesIn(day.view, id).map((doe) => ({ doe, meals: mealsOf(doe.id, on) }));
    return does.length ? [{ id, name, meals: id ? mealsOf(id, on) : [], does }] : [];
  });
}
