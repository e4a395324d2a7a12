import { dayOf } from "../base/days.ts";
import type { Envelope } from "../events/events.ts";
import { compareText } from "../events/order.ts";
import { text, truth } from "../events/values.ts";
import type { Question } from "./view.ts";

/** What two people may have recorded of one thing: both kept, and one question. Twin of herd/state/twice.py. */

/** No goat kids twice in that time, and a twin that came an hour later is no kidding of its own. */
const KIDDED_APART_D = 100;
/** Back in heat she would be 18 to 23 days later: closer than this, two dates are of one service. */
const SERVED_APART_D = 14;

/**
 * Questions by the key they are asked under. Meanwhile all treatments hold, the longest the longest; she has kidded
 * once and was dried off on the later day, and may have settled on any of the days from the first to the last.
 */
export function said_twice(timed: Envelope[]): Map<string, Question> {
  const found = new Map<string, string[]>();
  const kidded = new Map<string, [on: string, ev: string]>();
  const turns: Turns = new Map();
  for (const event of timed) {
    const { id, kind, subject, on, data } = event;
    if (kind === "treatment" && !truth(data, "again")) {
      add(found, `treated_twice|${subject}|${on}|${plain(text(data, "product"))}`, id);
    } else if (kind === "kidded") {
      const before = kidded.get(subject);
      if (before && is_same_kidding(before[0], on)) add(found, `kidded_twice|${subject}|`, before[1], id);
      kidded.set(subject, [on, id]);
    }
    turn(turns, event);
  }
  for (const [key, said] of turns) {
    if (new Set(said.map(([on]) => on)).size > 1) add(found, key, ...said.map(([, ev]) => ev));
  }
  const asked = [...found].map(([key, marks]) => [key, [...new Set(marks)].sort(compareText)] as const);
  return new Map(asked.filter(([, marks]) => marks.length > 1).map(([key, marks]) => [key, question(key, marks)]));
}

type Turns = Map<string, [on: string, ev: string][]>;

/** When she was served and dried off, as often as somebody said so; what has ended since is asked no more. */
function turn(turns: Turns, { id, kind, subject, on, data }: Envelope): void {
  const [bred, dried] = [`bred_twice|${subject}|`, `dried_twice|${subject}|`];
  if (kind === "kidded") turns.delete(dried);
  if (kind === "kidded" || (kind === "preg_check" && text(data, "result") === "open")) turns.delete(bred);
  else if (kind === "bred" && !truth(data, "again")) {
    const first = text(data, "from_on") || on;
    const near = (turns.get(bred) ?? []).filter(([other]) => is_same_service(other, first));
    turns.set(bred, [...near, [first, id]]);
  } else if (kind === "dried_off" && !truth(data, "again")) {
    turns.set(dried, [...(turns.get(dried) ?? []), [on, id]]);
  }
}

export function is_same_kidding(one: string, other: string): boolean {
  return is_within(one, other, KIDDED_APART_D);
}

export function is_same_service(one: string, other: string): boolean {
  return is_within(one, other, SERVED_APART_D);
}

function is_within(one: string, other: string, days: number): boolean {
  const dated = one > "1000" && other > "1000";
  return dated && Math.abs(dayOf(other) - dayOf(one)) < days;
}

/** Letters of any other alphabet stay as they were typed: two languages need not agree on them. */
function plain(product: string): string {
  return product.replace(/[A-Z]/g, (letter) => letter.toLowerCase()).replace(/^ +| +$/g, "");
}

function add(found: Map<string, string[]>, key: string, ...marks: string[]): void {
  found.set(key, [...(found.get(key) ?? []), ...marks]);
}

function question(key: string, marks: string[]): Question {
  const [kind, subject, ...field] = key.split("|") as [string, string, ...string[]];
  return { kind, subject, field: field.join("|"), values: marks.map((ev) => ({ value: ev, stamp: "", ev })) };
}
