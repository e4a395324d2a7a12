import { AHEAD_D } from "../../core/tables/numbers.ts";
import type { Brings } from "../../core/outlook/acts/shapes.ts";
import { rationsOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { addDays } from "../words/format.ts";

/** An act that was put into the plan: what it promised, and all that one tap wrote. */
export interface Adopted {
  key: string;
  act: string;
  on: string;
  brings: Brings;
  evs: string[];
}

/** Those of the last weeks that reach one doe or one pen. */
export function adopted(subjects: string[]): Adopted[] {
  const marks = subjects.flatMap((subject) => rationsOf(day.view, subject)).flatMap(({ marks }) => marks);
  const lately = marks.filter(({ act, on }) => act && on >= addDays(day.today, -AHEAD_D));
  const found = new Map<string, Adopted>();
  for (const { act, of, from_pm, to_pm, by_on, on } of lately) {
    const key = JSON.stringify([act, of, from_pm, to_pm, by_on]);
    const first = found.get(key)?.on ?? on;
    const brings = { of: of as Brings["of"], from_pm, to_pm, by_on };
    found.set(key, { key, act, on: on < first ? on : first, brings, evs: evs_of(key) });
  }
  return [...found.values()];
}

/** All of one act, whosever plan it went into. */
function evs_of(key: string): string[] {
  const marks = Object.values(day.view.rations).flatMap(({ marks }) => marks);
  return marks
    .filter(({ act, of, from_pm, to_pm, by_on }) => JSON.stringify([act, of, from_pm, to_pm, by_on]) === key)
    .map(({ ev }) => ev);
}
