import type { Data, Envelope } from "../events/events.ts";
import { compareText } from "../events/order.ts";
import { place_key } from "./planned.ts";
import { same, side } from "./records.ts";
import { rows, text, whole } from "../events/values.ts";
import type { Mark, Question, Ration, Step } from "./view.ts";

/**
 * Per (doe or pen, slot, feed) dated amounts; a later set replaces from its first date on. Twin of
 * herd/state/rations.py.
 */
export function write_ration(rations: Record<string, Ration>, event: Envelope, questions: Map<string, Question>): void {
  const { data, subject } = event;
  const steps = clean_steps(rows(data, "steps"));
  if (steps.length === 0) return;
  const [slot, feed, base] = [text(data, "slot"), text(data, "feed"), text(data, "base")];
  const key = place_key(subject, slot, feed);
  const held = rations[key];
  const kept = held ? held.steps.filter((step) => step[0] < steps[0]![0]) : [];
  const now = [...kept, ...steps];
  if (held && base !== held.hlc && !same(held.steps, now)) {
    const values = [side(held.steps, held.hlc, held.ev), side(now, event.hlc, event.id)];
    questions.set(`ration|${key}`, { kind: "ration", subject, field: key, values });
  } else if (held && base === held.hlc) {
    questions.delete(`ration|${key}`);
  }
  const marks = held ? held.marks.filter((mark) => mark.on < steps[0]![0]) : [];
  marks.push(...marks_of(event, steps[0]![0]));
  rations[key] = { subject, slot, feed, steps: now, marks, hlc: event.hlc, ev: event.id };
}

/** What brought the amounts from a date on: an act and what it promised, or a reason; none where nothing is said. */
function marks_of({ id: ev, data }: Envelope, on: string): Mark[] {
  const [act, reason] = [text(data, "act"), text(data, "reason")];
  if (!act && !reason) return [];
  const promised = { of: text(data, "of"), from_pm: whole(data, "from_pm"), to_pm: whole(data, "to_pm") };
  return [{ on, act, ...promised, by_on: text(data, "by_on"), reason, ev }];
}

/** Dated grams sorted by date, the last one given for a date standing. */
export function clean_steps(steps: Data[]): Step[] {
  const by_date = new Map<string, number>();
  for (const step of steps) if (text(step, "on")) by_date.set(text(step, "on"), whole(step, "g"));
  return [...by_date].sort((a, b) => compareText(a[0], b[0]));
}
