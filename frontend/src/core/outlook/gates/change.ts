import { place_key } from "../../state/planned.ts";
import { standing } from "../ground/branches.ts";
import { Context } from "../ground/context.ts";
import type { Ration, Step, View } from "../../state/view.ts";

/** A ration as somebody wants it, before it is saved: the same amounts at each of its feedings. */
export interface Change {
  subject: string;
  feed: string;
  slots: string[];
  steps: Step[];
}

/** Why a ration is asked about before it is saved; `does` are those whom it is about, `on` is the first day of it. */
export interface Finding {
  code:
    | "class_unknown" | "grain_jump" | "grain_fast" | "grain_meal" | "grain_day" | "hay_switch" | "calcium_fall"
    | "calcium_rise" | "late_cut";
  on: string;
  does: string[];
  args: Record<string, number>;
}

/** The farm as it is and as it would be. */
export interface Both {
  now: Context;
  then: Context;
  changes: Change[];
  /** The days that are looked through. */
  days: string[];
}

/** The farm with the change in its plan. An amount under question is answered by it. */
export function with_change(ctx: Context, change: Change): Context {
  const rations = { ...ctx.view.rations, ...changed(ctx.view.rations, change) };
  const keys = keys_of(change);
  const questions = ctx.view.questions.filter(({ kind, field }) => kind !== "ration" || !keys.includes(field));
  return new Context({ ...ctx.view, rations, questions }, ctx.outlooks, ctx.book, ctx.day, ctx);
}

export function keys_of({ subject, feed, slots }: Change): string[] {
  return slots.map((slot) => place_key(subject, slot, feed));
}

/** After every stamp there is: what is planned now is moved by nothing that came before it. */
const PLANNED_NOW = "ffffffffffff";

/** Those rations that it makes others: what stood before its first day stays. */
export function changed(rations: View["rations"], change: Change): View["rations"] {
  const { subject, feed, steps } = change;
  const made = keys_of(change).map((key, i): [string, Ration] => {
    const held: Ration | undefined = rations[key];
    const kept = (held?.steps ?? []).filter(([on]) => on < steps[0]![0]);
    const blank: Ration = { subject, slot: change.slots[i]!, feed, steps: [], marks: [], hlc: "", ev: "" };
    return [key, { ...(held ?? blank), steps: [...kept, ...steps], hlc: PLANNED_NOW }];
  });
  return Object.fromEntries(made);
}

/** Whom it feeds: her, or all at that feeder; those without numbers are judged by nobody. */
export function reached(now: Context, subject: string): string[] {
  const does = Object.hasOwn(now.view.does, subject) ? [subject] : now.pen_mates(subject, now.day);
  return does.filter((id) => now.here(id) && standing(now, id) === "ok");
}
