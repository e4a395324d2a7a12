import { RULES } from "../../core/tables/rules.ts";
import { first_raise } from "../../core/outlook/measures.ts";
import { amount_on } from "../../core/state/rations.ts";
import { faultText } from "../forms/faults.ts";
import { write } from "../forms/write.ts";
import { addDays } from "../words/format.ts";
import { labelOf, oldWeight, whyOld } from "../sentences/amounts.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Ration } from "../model/shapes.ts";
import { t } from "../words/text.ts";

export interface StepRow {
  key: number;
  on: string;
  g: number | null;
  /** How often a scoop's weight was taken over, so that the box shows it. */
  scooped: number;
}
interface Draft {
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

/** The herd rules' own steps for her, still ahead. */
export function ruleSteps(doe: string): StepRow[] {
  return (day.outlook(doe)?.steps ?? []).filter(({ on }) => on > day.today).map(({ on, g }) => row(on, g));
}

/** Writes one ration for each slot chosen; or says, field by field, what is wrong and writes nothing. */
export function saveRation({ subject, to, feed, slots, steps }: Draft): Record<string, string> {
  const errors: Record<string, string> = {};
  if (!feed) errors["feed"] = t("bad.missing.pick");
  if (slots.length === 0) errors["slots"] = t("bad.slots");
  const sorted = [...steps].sort((a, b) => (a.on < b.on ? -1 : 1));
  steps.forEach(({ g, on }, i) => {
    if (g === null) errors[`g${i}`] = t("bad.amount");
    else if (g < 0) errors[`g${i}`] = t("bad.negative");
    if (!on) errors[`on${i}`] = t("bad.missing.date");
    else if (steps.findIndex((one) => one.on === on) < i) errors[`on${i}`] = t("bad.same_day");
  });
  if (Object.keys(errors).length) return errors;
  const raise = raisedByHelper({ subject, feed, slots, sorted }) ?? raisedByOldWeight({ subject, feed, slots, sorted });
  if (raise) return { [`g${steps.indexOf(raise.step)}`]: raise.text };
  for (const slot of slots) {
    const base = day.view.rations[`${subject}|${slot}|${feed}`]?.hlc ?? "";
    const problem = write("ration", subject, {
      to, slot, feed, base, steps: sorted.map(({ on, g }) => ({ on, g: g ?? 0 })),
    });
    if (problem) return problemAt(problem, sorted, steps);
  }
  return {};
}

type Wanted = Pick<Draft, "subject" | "feed" | "slots"> & { sorted: StepRow[] };

/** Whoever helps lowers a ration and never raises one; nor does she leave out a step down that is to come. */
function raisedByHelper({ subject, feed, slots, sorted }: Wanted): { step: StepRow; text: string } | null {
  if (session.plans) return null;
  const wanted = sorted.map(({ on, g }): [string, number] => [on, g ?? 0]);
  const places = slots.map((slot) => {
    const held = day.view.rations[`${subject}|${slot}|${feed}`]?.steps ?? [];
    const dates = [...wanted, ...held].map(([on]) => on).filter((on) => on >= wanted[0]![0]).sort();
    const raised = dates.find((on) => amount_on(wanted, on) > amount_on(held, on));
    return raised === undefined ? -1 : sorted.filter(({ on }) => on <= raised).length - 1;
  });
  const step = sorted[places.find((place) => place >= 0) ?? -1];
  return step ? { step, text: t("bad.raise.helper") } : null;
}

/** A raise worked out by a scoop that no longer holds what it held would be another amount than meant. */
function raisedByOldWeight({
  subject, feed, slots, sorted,
}: Pick<Draft, "subject" | "feed" | "slots"> & { sorted: StepRow[] }): { step: StepRow; text: string } | null {
  const old = oldWeight(feed);
  if (!old) return null;
  const wanted = sorted.map(({ on, g }): [string, number] => [on, g ?? 0]);
  const places = slots.map((slot) => first_raise(day.view.rations[`${subject}|${slot}|${feed}`]?.steps ?? [], wanted));
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
