import { dayOf } from "../base/days.ts";
import type { Envelope } from "../events/events.ts";
import { compareText } from "../events/order.ts";
import { text, truth } from "../events/values.ts";
import type { Question } from "./view.ts";

/** What two people may have recorded of one thing: both kept, and one question. Twin of herd/state/twice.py. */

/** No goat kids twice in that time, and a twin that came an hour later is no kidding of its own. */
const KIDDED_APART_D = 100;

/**
 * Questions by the key they are asked under. Meanwhile all treatments hold, the longest the longest, and she has kidded
 * once, on the later day.
 */
export function said_twice(timed: Envelope[]): Map<string, Question> {
  const found = new Map<string, string[]>();
  const kidded = new Map<string, [on: string, ev: string]>();
  for (const { id, kind, subject, on, data } of timed) {
    if (kind === "treatment" && !truth(data, "again")) {
      add(found, `treated_twice|${subject}|${on}|${plain(text(data, "product"))}`, id);
    } else if (kind === "kidded") {
      const before = kidded.get(subject);
      if (before && is_same_kidding(before[0], on)) add(found, `kidded_twice|${subject}|`, before[1], id);
      kidded.set(subject, [on, id]);
    }
  }
  const asked = [...found].map(([key, marks]) => [key, [...new Set(marks)].sort(compareText)] as const);
  return new Map(asked.filter(([, marks]) => marks.length > 1).map(([key, marks]) => [key, question(key, marks)]));
}

export function is_same_kidding(one: string, other: string): boolean {
  const dated = one > "1000" && other > "1000";
  return dated && Math.abs(dayOf(other) - dayOf(one)) < KIDDED_APART_D;
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
