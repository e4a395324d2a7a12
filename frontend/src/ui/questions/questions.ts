import type { Change } from "../../core/outlook/gates/change.ts";
import type { Step } from "../../core/state/view.ts";
import { feedInfo, nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { record } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { calendar } from "../words/format.ts";
import { has, t } from "../words/text.ts";
import type { Data, Fields, Question } from "../model/shapes.ts";

export interface Side {
  ev: string;
  text: string;
  by: string;
  value: unknown;
}

const A_DAY = /^\d{4}-\d\d-\d\d$/;
const TABLES = [
  ["doe", "does"], ["pen", "pens"], ["lot", "lots"], ["feed", "feeds"], ["scoop", "scoops"], ["jar", "jars"],
  ["pack", "packs"],
  ["contact", "contacts"],
  ["shelf", "shelf"],
] as const;
/** What a question is about: the farm's rules where it is no record of its own. */
const tableOf = ({ subject }: Question) => TABLES.find(([, table]) => day.view[table][subject]);

function rowOf(question: Question): Fields | undefined {
  const table = tableOf(question)?.[1];
  return table ? day.view[table][question.subject] : day.view.rules;
}

export function titleOf(question: Question): string {
  const { view } = day;
  const table = tableOf(question)?.[1];
  const name = (table && nameOf(view[table][question.subject])) || t("farm");
  if (question.kind !== "ration") return t("q.field", { name, field: fieldName(question.field) });
  const [, slot, feed] = question.field.split("|");
  return t("q.ration", { name, slot: t(`slot.${slot}`), feed: feedInfo(view, day.feeds, feed ?? "").name });
}

/** A ration is for who plans to settle, any other for whoever may change that field. */
export function maySettle(question: Question): boolean {
  if (question.kind === "ration") return session.plans;
  return session.mayChange(tableOf(question)?.[0] ?? "rules", question.field);
}

const fieldName = (field: string) => [`f.${field}`, `rule.${field}`].filter(has).map((key) => t(key))[0] ?? field;

export function sides(question: Question): Side[] {
  return question.values.map(({ value, ev }) => {
    const event = session.farm?.event(ev);
    const by = event ? t("q.by", { who: session.who(event.author), at: day.when(event.happened) }) : "";
    return { ev, value, by, text: spoken(question, value) };
  });
}

function spoken(question: Question, value: unknown): string {
  if (question.kind === "ration")
    return (value as [string, number][])
      .slice(-3)
      .map(([on, g]) => `${day.amount(g)} (${day.spoken(on)})`)
      .join(", ");
  if (value === "" || value === null) return t("no_value");
  if (question.field === "feed") return feedInfo(day.view, day.feeds, String(value)).name;
  if (A_DAY.test(String(value))) return calendar(String(value), day.today);
  const yes_no = value === true ? "yes" : value === false ? "no" : "";
  const word = [`o.${question.field}.${value}`, yes_no].filter(has)[0];
  return word ? t(word) : String(value);
}

/** Which value counts until somebody has chosen. */
export function standing(question: Question): string {
  return spoken(question, rowOf(question)?.f[question.field] ?? "");
}

/** What a choice would plan: of the steps it drops the first is kept, at nothing. */
export function planOf({ field }: Question, { value }: Side): Change {
  const [subject, slot, feed] = field.split("|") as [string, string, string];
  const steps = [...(value as Step[])];
  const dropped = (day.view.rations[field]?.steps ?? []).map(([on]) => on).sort()[0];
  if (dropped && dropped < (steps[0]?.[0] ?? day.today)) steps.unshift([dropped, 0]);
  return { subject, feed, slots: [slot], steps };
}

/** The choice is written as having seen the value that stands now, which settles the question everywhere. */
export function choose(question: Question, side: Side): void {
  const { view } = day;
  if (question.kind === "ration") {
    const { subject, feed, slots: [slot], steps } = planOf(question, side);
    const [to, base] = [view.pens[subject] ? "pen" : "doe", view.rations[question.field]?.hlc ?? ""];
    record("ration", subject, { to, slot: slot!, feed, steps: steps.map(([on, g]) => ({ on, g })), base });
    return;
  }
  const kind = tableOf(question)?.[0] ?? "rules";
  const row = rowOf(question);
  const f = { [question.field]: side.value } as Data;
  record(kind, question.subject, { f, base: { [question.field]: row?.stamp[question.field] ?? "" } });
}
