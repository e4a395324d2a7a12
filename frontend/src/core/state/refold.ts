import type { Envelope } from "../events/events.ts";
import { fold } from "./fold.ts";
import { MEAL_KINDS, OF_DOE_KINDS } from "../events/kinds.ts";
import { intake_of } from "./seen.ts";
import { isLink } from "./chains.ts";
import { content_fault, readable } from "../events/readable.ts";
import { content, mapping, table, text } from "../events/values.ts";
import type { Ration, View } from "./view.ts";

/** The entries that count, as far as a view after one more of them has to look back. */
export interface Log {
  counting(): Envelope[];
  event(id: string): Envelope | undefined;
}

const SEEN = new Set<string>([...MEAL_KINDS, ...OF_DOE_KINDS, "freeze", "ration"]);

/** What a void or a correction is about, where only that doe or feeder hangs on it and its time stays what it was. */
export function target_of(event: Envelope, log: Log): Envelope | null {
  const target = isLink(event) ? log.event(text(content(event), "of")) : undefined;
  if (!target || !SEEN.has(target.kind) || target.subject !== event.subject) return null;
  // with what let a wish in the wish comes back
  return moves(event) || !readable(target) || text(target.data, "wish") ? null : target;
}

function moves(event: Envelope): boolean {
  return ["on", "slot", "happened"].some((name) => content(event)[name] !== undefined);
}

/** Put right once already, and moved in time by it: the newer word takes that back too. */
function moved_before({ id }: Envelope, log: Log): boolean {
  return log.counting().some((event) => event.kind === "correct" && text(content(event), "of") === id && moves(event));
}

/**
 * An observation taken back or put right: what hangs on its subject is folded again from its own entries, the rest
 * stands.
 */
export function refolded(view: View, event: Envelope, log: Log): View | null {
  const [target, { subject }] = [target_of(event, log), event];
  const is_doe = Object.hasOwn(view.does, subject);
  if (!target || (!is_doe && !Object.hasOwn(view.pens, subject))) return null;
  if (moved_before(target, log) || view.parked.includes(target.id)) return null;
  if (event.kind === "correct" && content_fault(target.kind, event.data["data"])) return null;
  if (target.kind === "fed" && !stay(view, target, event, log)) return null;
  const own = fold(about(target, log));
  if (target.kind === "ration") return event.kind === "void" ? planned(view, own, subject) : null;
  const [feedings, intakes] = [taken(view.feedings, own.feedings, subject), taken(view.intakes, own.intakes, subject)];
  if (feedings === null || intakes === null) return null;
  const does = is_doe ? { ...view.does, [subject]: own.does[subject]! } : view.does;
  return { ...view, does, feedings, intakes, voided: { ...view.voided, ...own.voided } };
}

/** The plan of one subject as its own entries have it. */
function planned(view: View, own: View, subject: string): View {
  const others = Object.entries(view.rations).filter(([, ration]) => ration.subject !== subject);
  const of_others = view.questions.filter(({ kind, field }) => kind !== "ration" || !field.startsWith(`${subject}|`));
  return {
    ...view, rations: Object.assign(table<Ration>(), Object.fromEntries(others), own.rations),
    questions: [...of_others, ...own.questions.filter(({ kind }) => kind === "ration")],
    voided: { ...view.voided, ...own.voided },
  };
}

const OF_PLAN = ["doe", "pen", "ration"];

/**
 * Its own entries, all that take back or put right, and the meals its own name with whoever they were for; of a plan
 * what makes a plan.
 */
function about({ kind, subject }: Envelope, log: Log): Envelope[] {
  const all = log.counting();
  const hers = all.filter((event) => event.subject === subject || isLink(event));
  if (kind === "ration") return hers.filter((event) => isLink(event) || OF_PLAN.includes(event.kind));
  const meals = hers
    .map(content)
    .flatMap((data) => [text(data, "fed"), text(mapping(data, "data"), "fed")].flatMap((id) => log.event(id) ?? []));
  const feeders = new Set(meals.map((meal) => meal.subject));
  return [
    ...hers, ...meals,
    ...all.filter(({ kind, subject }) => (kind === "pen" || kind === "doe") && feeders.has(subject)),
  ];
}

/** The rows of one subject replaced by those found anew, each in its place; null when one is there that was not. */
function taken<T extends { ev: string; subject: string }>(rows: T[], found: T[], subject: string): T[] | null {
  const hers = new Map(found.filter((row) => row.subject === subject).map((row) => [row.ev, row]));
  const kept = rows.flatMap((row) => (row.subject === subject ? hers.get(row.ev) ?? [] : row));
  for (const row of kept) hers.delete(row.ev);
  return hers.size ? null : kept;
}

/** What was seen at a meal takes its date from it: whether it keeps that date when the meal is taken back. */
function stay(view: View, meal: Envelope, event: Envelope, log: Log): boolean {
  if (event.kind !== "void") return true;
  const at = view.intakes
    .map((row) => [row, log.event(row.ev)] as const)
    .filter(([, seen]) => seen && text(content(seen), "fed") === meal.id);
  return at.every(([row, seen]) => {
    const alone = intake_of(seen!, new Map());
    // put right to another time, it falls back to that one and not to where it was first written
    return alone.on === row.on && alone.slot === row.slot && !moved_before(seen!, log);
  });
}
