import { addDays } from "../base/days.ts";
import { amount_on } from "../state/rations.ts";
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
  slot: string;
  feed: string;
  on: string;
  from: number;
  g: number;
}

/** Steps somebody saved before that fall on these dates: they go on as planned. */
export function steps_in({ rations, does, pens }: View, from_on: string, to_on: string): PlannedStep[] {
  const here = (subject: string) => subject in pens || (subject in does && !does[subject]!.left_on);
  return Object.values(rations)
    .filter(({ subject }) => here(subject))
    .flatMap(({ subject, slot, feed, steps }) =>
      steps
        .filter(([on]) => on >= from_on && on <= to_on)
        .map(([on, g]) => ({ subject, slot, feed, on, g, from: amount_on(steps, addDays(on, -1)) })),
    )
    .filter(({ from, g }) => from !== g)
    .sort((a, b) => (a.on < b.on ? -1 : 1));
}
