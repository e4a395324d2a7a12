import { own_pen } from "../../core/outlook/acts/apart.ts";
import { AHEAD_D } from "../../core/tables/numbers.ts";
import type { Brings } from "../../core/outlook/acts/shapes.ts";
import { rationsOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { addDays } from "../words/format.ts";

/** An act that was put into the plan: what it promised, where she was moved, and all that one tap wrote. */
export interface Adopted {
  key: string;
  act: string;
  on: string;
  brings: Brings;
  pen: string;
  evs: string[];
}

/** Those of the last weeks that reach one doe, where she stands and where she is to stand. */
export function adopted(doe: Doe): Adopted[] {
  const subjects = [doe.id, doe.pen, doe.moves.at(-1)?.[1] ?? ""];
  const marks = subjects.flatMap((subject) => rationsOf(day.view, subject)).flatMap(({ marks }) => marks);
  const lately = marks.filter(({ act, on }) => act && on >= addDays(day.today, -AHEAD_D));
  const found = new Map<string, Adopted>();
  for (const { act, of, from_pm, to_pm, by_on, on } of lately) {
    const key = JSON.stringify([act, of, from_pm, to_pm, by_on]);
    const first = found.get(key)?.on ?? on;
    const brings = { of: of as Brings["of"], from_pm, to_pm, by_on };
    const [subjects, evs] = written(key, act.startsWith("plan_") ? [doe.id, doe.pen] : null);
    const one = { key, act, on: on < first ? on : first, brings, pen: "", evs };
    // another doe left this feeder
    if (act !== "move") found.set(key, one);
    else moved(doe, one, subjects).forEach((each) => found.set(key, each));
  }
  return [...found.values()];
}

/** All of one act, whosever plan it went into; a stretch of her year is hers alone. */
function written(key: string, only: string[] | null): [subjects: string[], evs: string[]] {
  const rations = Object.values(day.view.rations).filter(({ subject }) => !only || only.includes(subject));
  const all = rations.flatMap(({ subject, marks }) =>
    marks
      .filter(({ act, of, from_pm, to_pm, by_on }) => JSON.stringify([act, of, from_pm, to_pm, by_on]) === key)
      .map(({ ev }) => [subject, ev] as const),
  );
  return [all.map(([subject]) => subject), all.map(([, ev]) => ev)];
}

/** With the move itself, and the pen made for her where nobody else ever stood and nothing was fed. */
function moved({ id, moves }: Doe, one: Adopted, subjects: string[]): Adopted[] {
  const move = moves.find(([on, pen]) => on === one.on && subjects.includes(pen));
  if (!move) return [];
  const [, pen, ev] = move;
  const { does, pens, feedings } = day.view;
  const stood = Object.values(does).some((doe) => doe.moves.some(([, to, by]) => to === pen && by !== ev));
  const fed = feedings.some(({ subject }) => subject === pen);
  const made = pen === own_pen(id) && !stood && !fed ? [pens[pen]!.by["name"]!] : [];
  return [{ ...one, pen, evs: [...one.evs, ev, ...made] }];
}
