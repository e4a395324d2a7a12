import { SIZE_KG } from "../../core/tables/numbers.ts";
import { addDays } from "../words/format.ts";
import type { Data } from "../model/shapes.ts";

/** Large is no class of its own: a grown weight is taken for her until somebody weighs her. */
export function sizeFields(size: string): Data {
  return size === "large" ? { size: "standard", mature_kg: SIZE_KG.large } : { size };
}

/** "10" is ten weeks ago, give or take one; a date is that day; "no", "unsure" and "yes" are none. */
export function bredWhen(said: string, today: string) {
  if (!said || ["no", "unsure", "yes"].includes(said)) return null;
  if (said.includes("-")) return { from_on: said, to_on: said, how: "hand" as const };
  const [from_on, to_on] = [1, -1].map((week) => addDays(today, -7 * (Number(said) + week)));
  return { from_on: from_on!, to_on: to_on!, how: "pen" as const };
}

export const onWeek = (said: string, today: string) => (said.includes("-") ? said : addDays(today, -7 * Number(said)));
