import { PHASE } from "../../core/tables/codes.ts";
import { MILK_RECENT_D } from "../../core/tables/numbers.ts";
import { doesIn, pens } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { addDays } from "../words/format.ts";

const MILKING: number[] = [PHASE.carrying_in_milk, PHASE.drying_off, PHASE.fresh, PHASE.in_milk];

/** Who is milked, in the order they are walked by: by her dates, or because she was weighed lately. */
export function milkers(): Doe[] {
  const since = addDays(day.today, -MILK_RECENT_D);
  const weighed = ({ milks, dried_on }: Doe) => milks.some(([on, g]) => g > 0 && on >= since && on > dried_on);
  const is = (doe: Doe) => MILKING.includes(day.judged.doe(doe.id)?.phase ?? -1) || weighed(doe);
  return [...pens(day.view).map(({ id }) => id), ""].flatMap((pen) => doesIn(day.view, pen)).filter(is);
}

/** What was weighed of her at a meal of a day, and what before it, at that meal where there is one. */
export function weighed(doe: Doe, on: string, slot: string) {
  const now = doe.milks.findLast((row) => row[0] === on && row[2] === slot);
  const before = doe.milks.filter((row) => row[0] < on || (row[0] === on && row[2] !== slot));
  return { now, last: before.findLast((row) => row[2] === slot) ?? before.at(-1) };
}
