import { addDays } from "../../base/days.ts";
import { amount_on } from "../../state/planned.ts";
import type { Doe, Ration, View } from "../../state/view.ts";

/** What changed at her feeder lately: an amount in a plan, a new bag of what she gets, another pen. */
export interface Change {
  on: string;
  what: "amount" | "bag" | "pen";
  /** The feed, or the pen she came into. */
  id: string;
  slots: string[];
  /** Hers alone, or the whole pen's. */
  own: boolean;
  from_g: number;
  to_g: number;
}

/** Newest first. */
export function changes_of(view: View, doe: Doe, today: string, back_d: number): Change[] {
  const since = addDays(today, 1 - back_d);
  const none = { slots: [], own: true, from_g: 0, to_g: 0 };
  const moves = doe.moves.map(([on, id]): Change => ({ ...none, on, what: "pen", id }));
  const hers = new Set(reaching(view, doe).map(({ feed }) => feed));
  const bags = [...hers].flatMap((id) =>
    (view.bags[id] ?? []).map(({ on }): Change => ({ ...none, on, what: "bag", id, own: false })),
  );
  return [...amounts(view, doe), ...bags, ...moves]
    .filter(({ on }) => on >= since && on <= today)
    .sort((a, b) => (a.on < b.on ? 1 : -1));
}

/** The same step in two meals is one change. */
function amounts(view: View, doe: Doe): Change[] {
  const found = new Map<string, Change>();
  for (const change of steps_of(view, doe)) {
    const { slots, ...same } = change;
    const key = JSON.stringify(same);
    found.set(key, { ...change, slots: [...(found.get(key)?.slots ?? []), ...slots] });
  }
  return [...found.values()];
}

function reaching(view: View, doe: Doe): Ration[] {
  return Object.values(view.rations).filter(
    ({ subject }) => subject !== "" && (subject === doe.id || subject === doe.pen),
  );
}

function steps_of(view: View, doe: Doe): Change[] {
  return reaching(view, doe).flatMap(({ subject, slot, feed, steps }) =>
    steps.flatMap(([on, to_g]): Change[] => {
      const from_g = amount_on(steps, addDays(on, -1));
      return from_g === to_g
        ? []
        : [{ on, what: "amount", id: feed, slots: [slot], own: subject === doe.id, from_g, to_g }];
    }),
  );
}
