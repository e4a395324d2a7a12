import { addDays, dayOf } from "../core/days.ts";
import { feedInfo, nameOf } from "./herd.ts";
import { model } from "./model.svelte.ts";
import { has, t } from "./text.ts";
import type { Data, Question } from "./shapes.ts";

export interface Side {
  ev: string;
  text: string;
  by: string;
  value: unknown;
}

export function titleOf(question: Question): string {
  const { view } = model;
  const name = nameOf(view.does[question.subject] ?? view.pens[question.subject] ?? view.lots[question.subject]) || t("farm");
  if (question.kind !== "ration") return t("q.field", { name, field: fieldName(question.field) });
  const [, slot, feed] = question.field.split("|");
  return t("q.ration", { name, slot: t(`slot.${slot}`), feed: feedInfo(view, model.feeds, feed ?? "").name });
}

const fieldName = (field: string) => [`f.${field}`, `rule.${field}`].filter(has).map((key) => t(key))[0] ?? field;

export function sides(question: Question): Side[] {
  return question.values.map(({ value, ev }) => {
    const event = model.events.find(({ id }) => id === ev);
    const by = event ? t("q.by", { who: model.who(event.author), at: model.when(event.happened) }) : "";
    return { ev, value, by, text: spoken(question, value) };
  });
}

function spoken(question: Question, value: unknown): string {
  if (question.kind === "ration") return (value as [string, number][]).slice(-3).map(([on, g]) => `${model.amount(g)} (${model.day(on)})`).join(", ");
  return value === "" || value === null ? t("no_value") : String(value);
}

/** The choice is written as having seen the value that stands now, which settles the question everywhere. */
export function choose(question: Question, side: Side): void {
  const { view } = model;
  if (question.kind === "ration") {
    const held = view.rations[question.field];
    const [subject, slot, feed] = question.field.split("|") as [string, string, string];
    const steps = (side.value as [string, number][]).map(([on, g]) => ({ on, g }));
    const dropped = (held?.steps ?? []).map(([on]) => on).sort()[0];
    const first = steps[0]?.on ?? model.today;
    if (dropped && dayOf(dropped) < dayOf(first)) steps.unshift({ on: addDays(dropped, 0), g: 0 });
    model.record("ration", subject, { to: view.pens[subject] ? "pen" : "doe", slot, feed, steps, base: held?.hlc ?? "" });
    return;
  }
  const kind = view.does[question.subject] ? "doe" : view.pens[question.subject] ? "pen" : view.lots[question.subject] ? "lot" : view.feeds[question.subject] ? "feed" : "rules";
  const row = kind === "rules" ? view.rules : view[`${kind}s`][question.subject];
  const f = { [question.field]: side.value } as Data;
  model.record(kind, question.subject, { f, base: { [question.field]: row?.stamp[question.field] ?? "" } });
}
