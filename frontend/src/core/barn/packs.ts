import { addDays } from "../base/days.ts";
import { SLOTS, type Slot } from "../events/kinds.ts";
import { amount_on } from "../state/planned.ts";
import type { View } from "../state/view.ts";

/** What a sitter goes by: from when to when, who is looked at and at which meals, when to phone, what else to know. */
export interface Pack {
  id: string;
  name: string;
  from_on: string;
  to_on: string;
  look: string[];
  look_slots: string[];
  ring_when: string;
  told: string;
}

const texts = (value: unknown): string[] => (Array.isArray(value) ? value.map(String) : []);

/** Those nobody took away, by their first day. */
export function packs({ packs }: Pick<View, "packs">): Pack[] {
  const found = Object.values(packs).filter(({ f }) => f["gone"] !== true && f["from_on"] && f["to_on"]);
  return found
    .map(({ id, f }) => ({
      id, name: String(f["name"] ?? ""), from_on: String(f["from_on"]), to_on: String(f["to_on"]),
      look: texts(f["look"]), look_slots: texts(f["look_slots"]), ring_when: String(f["ring_when"] ?? ""),
      told: String(f["told"] ?? ""),
    }))
    .sort((a, b) => (a.from_on < b.from_on ? -1 : 1));
}

export const pack_of = (view: Pick<View, "packs">, id: string): Pack | undefined =>
  packs(view).find((pack) => pack.id === id);

export type When = "coming" | "now" | "past";
export const when_of = ({ from_on, to_on }: Pick<Pack, "from_on" | "to_on">, today: string): When =>
  today < from_on ? "coming" : today > to_on ? "past" : "now";

export interface PlannedStep {
  subject: string;
  /** The meals it is the same at. */
  slots: string[];
  feed: string;
  on: string;
  from: number;
  g: number;
}

/** Steps somebody saved before that fall on these dates: they go on as planned. */
export function steps_in({ rations, does, pens }: View, from_on: string, to_on: string): PlannedStep[] {
  const here = (subject: string) => subject in pens || (subject in does && !does[subject]!.left_on);
  const found = new Map<string, PlannedStep>();
  for (const { subject, slot, feed, steps } of Object.values(rations)) {
    if (!here(subject)) continue;
    for (const [on, g] of steps.filter(([on]) => on >= from_on && on <= to_on)) {
      const from = amount_on(steps, addDays(on, -1));
      const key = [on, subject, feed, from, g].join("|");
      const same = found.get(key);
      if (same) same.slots.push(slot);
      else if (from !== g) found.set(key, { subject, slots: [slot], feed, on, from, g });
    }
  }
  const place = ({ slots: [slot] }: PlannedStep) => SLOTS.indexOf(slot as Slot);
  return [...found.values()]
    .map((step) => ({ ...step, slots: step.slots.sort((a, b) => SLOTS.indexOf(a as Slot) - SLOTS.indexOf(b as Slot)) }))
    .sort((a, b) => (a.on === b.on ? place(a) - place(b) : a.on < b.on ? -1 : 1));
}
