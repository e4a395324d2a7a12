import { byCodePoint, compareText } from "../events/order.ts";
import type { Feeding, Question, View } from "./view.ts";

/** A meal that was given twice, and the order in which what is asked stands. */
export const SAID_TWICE = new Set(["treated_twice", "kidded_twice", "bred_twice", "dried_twice"]);

/** Whether that meal was given twice, now that its feedings are others. */
export function asked_again(view: View, feeding: { on: string; slot: string }): View {
  const { feedings } = view;
  const asked = `|${feeding.on}|${feeding.slot}`;
  const others = view.questions.filter(({ kind, field }) => kind !== "fed_twice" || `|${field}` !== asked);
  const meal = feedings.filter(({ on, slot }) => on === feeding.on && slot === feeding.slot);
  return { ...view, questions: sorted([...others, ...questions_of(meal)]) };
}

function questions_of(meal: Feeding[]): Question[] {
  return [...twice_fed(meal)].map(([key, marks]) => {
    const [subject, on, slot] = key.split("|") as [string, string, string];
    const values = marks.map((mark) => ({ value: mark, stamp: "", ev: mark }));
    return { kind: "fed_twice", subject, field: `${on}|${slot}`, values };
  });
}

/** The order the fold gives them: by the key each is asked under. */
export function sorted(questions: Question[]): Question[] {
  return questions.sort((a, b) => byCodePoint(key_of(a), key_of(b)));
}

export function key_of({ kind, subject, field }: Question): string {
  if (kind === "ration") return `ration|${field}`;
  if (SAID_TWICE.has(kind)) return `${kind}|${subject}|${field}`;
  return kind === "fed_twice" ? `fed|${subject}|${field}` : `field|${subject}|${field}`;
}

/** {"subject|date|slot": feeding ids} where a second feeding, not said to add, reached the same doe or feeder. */
export function twice_fed(feedings: Feeding[]): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const group of meals(feedings).flatMap(reached_twice)) {
    const { subject, on, slot } = group[0]!;
    const key = `${subject}|${on}|${slot}`;
    found.set(key, [...new Set([...(found.get(key) ?? []), ...group.map(({ ev }) => ev)])].sort(compareText));
  }
  return found;
}

/** Feedings by date and slot, where there is more than one. */
function meals(feedings: Feeding[]): Feeding[][] {
  const found = new Map<string, Feeding[]>();
  for (const feeding of feedings) {
    const key = feeding.on + feeding.slot;
    const meal = found.get(key);
    if (meal) meal.push(feeding);
    else found.set(key, [feeding]);
  }
  return [...found.values()].filter((meal) => meal.length > 1);
}

function reached_twice(meal: Feeding[]): Feeding[][] {
  const reached = new Map<string, Feeding[]>();
  for (const feeding of meal) {
    if (feeding.adds) continue;
    for (const target of new Set(feeding.lines.map(([to]) => to || feeding.subject))) {
      const group = reached.get(target);
      if (group) group.push(feeding);
      else reached.set(target, [feeding]);
    }
  }
  return [...reached.values()].filter((group) => group.length > 1);
}
