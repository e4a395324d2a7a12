import { RULES } from "../../core/tables/rules.ts";
import type { Change } from "../../core/outlook/gates/change.ts";
import { first_raise } from "../../core/outlook/feeding/measures.ts";
import { amount_on, place_key } from "../../core/state/planned.ts";
import { faultText } from "../forms/faults.ts";
import { write } from "../forms/write.ts";
import { addDays } from "../words/format.ts";
import { labelOf, oldWeight, whyOld } from "../sentences/amounts.ts";
import { day } from "../model/day.svelte.ts";
import type { Ration, Wish } from "../model/shapes.ts";
import { t } from "../words/text.ts";

export interface StepRow {
  key: number;
  on: string;
  g: number | null;
  /** How often a scoop's weight was taken over, so that the box shows it. */
  scooped: number;
}
export interface Draft {
  subject: string;
  to: "doe" | "pen";
  feed: string;
  slots: string[];
  steps: StepRow[];
}

let keys = 0;
const row = (on: string, g: number | null): StepRow => ({ key: keys++, on, g, scooped: 0 });

/** What runs today, then what is to come; a new ration starts today with nothing filled in. */
export function startSteps(held: Ration | undefined, today: string): StepRow[] {
  if (!held) return [row(today, null)];
  return [
    row(today, amount_on(held.steps, today)),
    ...held.steps.filter(([on]) => on > today).map(([on, g]) => row(on, g)),
  ];
}

export function nextStep(steps: StepRow[]): StepRow {
  const last = steps.at(-1);
  return row(addDays(last?.on || day.today, RULES.step_days[0]), last?.g ?? null);
}

/** Field by field, what is wrong with what was filled in. */
export function faultsIn({ subject, feed, slots, steps }: Draft): Record<string, string> {
  const errors: Record<string, string> = {};
  if (!feed) errors["feed"] = t("bad.missing.pick");
  if (slots.length === 0) errors["slots"] = t("bad.slots");
  steps.forEach(({ g, on }, i) => {
    if (g === null) errors[`g${i}`] = t("bad.amount");
    else if (g < 0) errors[`g${i}`] = t("bad.negative");
    if (!on) errors[`on${i}`] = t("bad.missing.date");
    else if (steps.findIndex((one) => one.on === on) < i) errors[`on${i}`] = t("bad.same_day");
  });
  if (Object.keys(errors).length) return errors;
  const old = raisedByOldWeight({ subject, feed, slots, sorted: sorted(steps) });
  return old ? { [`g${steps.indexOf(old.step)}`]: old.text } : {};
}

const sorted = (steps: StepRow[]) => [...steps].sort((a, b) => (a.on < b.on ? -1 : 1));

/** The ration as it would stand, for who judges it before it is saved. */
export function changeOf({ subject, feed, slots, steps }: Draft): Change {
  return { subject, feed, slots, steps: sorted(steps).map(({ on, g }): [string, number] => [on, g ?? 0]) };
}

export const rowsOf = (steps: [string, number][]): StepRow[] => steps.map(([on, g]) => row(on, g));

/** `of`: the wish it lets in; `by`: the act that brought it and what that promised. */
interface Saving {
  reason: string;
  wish: boolean;
  of?: string;
  by?: Pick<Wish, "act" | "of" | "from_pm" | "to_pm" | "by_on">;
}

/** Writes one ration for each slot chosen, or one wish; or says what is wrong and writes nothing. */
export function saveRation(draft: Draft, as: Saving): Record<string, string> {
  const { subject, to, feed, slots, steps } = draft;
  const dated = sorted(steps);
  for (const slot of slots) {
    const said = { to, slot, feed, reason: as.reason, steps: dated.map(({ on, g }) => ({ on, g: g ?? 0 })) };
    const seen = { base: day.view.rations[place_key(subject, slot, feed)]?.hlc ?? "", wish: as.of ?? "", ...as.by };
    const problem = as.wish ? write("wish", subject, said) : write("ration", subject, { ...said, ...seen });
    if (problem) return problemAt(problem, dated, steps);
  }
  return {};
}

type Wanted = Pick<Draft, "subject" | "feed" | "slots"> & { sorted: StepRow[] };

/** A raise worked out by a scoop that no longer holds what it held would be another amount than meant. */
function raisedByOldWeight({ subject, feed, slots, sorted }: Wanted): { step: StepRow; text: string } | null {
  const old = oldWeight(feed);
  if (!old) return null;
  const wanted = sorted.map(({ on, g }): [string, number] => [on, g ?? 0]);
  const held = (slot: string) => day.view.rations[place_key(subject, slot, feed)]?.steps ?? [];
  const places = slots.map((slot) => first_raise(held(slot), wanted));
  const step = sorted[places.find((place) => place >= 0) ?? -1];
  return step ? { step, text: t(`bad.raise.${old.of}`, { scoop: labelOf(old), why: whyOld(old, feed) }) } : null;
}

function problemAt(
  problem: { field: string; code: string; low?: number; high?: number }, sorted: StepRow[], steps: StepRow[],
): Record<string, string> {
  const place = /^steps\.(\d+)\.(\w+)/.exec(problem.field);
  const at = place ? steps.indexOf(sorted[Number(place[1])]!) : -1;
  const high = day.amount(problem.high ?? 0);
  const text = problem.code === "range" ? t("bad.range.amount", { high }) : faultText(problem, undefined, day.units);
  return { [at < 0 ? "" : `${place![2]}${at}`]: text };
}
