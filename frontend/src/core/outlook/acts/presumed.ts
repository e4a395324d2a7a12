import { amount_on, place_key } from "../../state/planned.ts";
import type { Feeding, Ration, View } from "../../state/view.ts";
import { Context, shift, SLOTS } from "../ground/context.ts";
import { subject_lines } from "../feeding/plan.ts";
import { LAST_FED_D } from "../../tables/numbers.ts";
import type { Act, ActLine } from "./shapes.ts";

/** A farm that taps its meals and writes no plan: what was last given is taken to go on. */
export interface Presumed {
  ctx: Context;
  rations: Ration[];
}

/** The farm as it is where anything is planned for those at the feeder. */
export function presumed_of(ctx: Context, unit: string): Presumed {
  const start = shift(ctx.day, 1);
  const subjects = [...new Set([unit, ...ctx.pen_mates(unit, start)])];
  const planned = subjects.some((who) => SLOTS.some((slot) => subject_lines(ctx, who, start, slot).length));
  const rations = planned ? [] : SLOTS.flatMap((slot) => last_given(ctx, subjects, slot));
  if (!rations.length) return { ctx, rations };
  const made: View["rations"] = { ...ctx.view.rations };
  for (const ration of rations) made[key_of(ration)] = ration;
  return { ctx: new Context({ ...ctx.view, rations: made }, ctx.outlooks, ctx.book, ctx.day, ctx), rations };
}

/** The last day on which somebody confirmed this meal, with what was added to it. */
function last_given(ctx: Context, subjects: string[], slot: string): Ration[] {
  for (let back = 0; back < LAST_FED_D; back++) {
    const day = ctx.feedings.get(shift(ctx.day, -back)) ?? [];
    const meal = day.filter((one) => one.slot === slot && subjects.includes(one.subject));
    if (meal.length) return rations_of(ctx, subjects, meal);
  }
  return [];
}

function rations_of({ day, view }: Context, subjects: string[], meal: Feeding[]): Ration[] {
  const found = new Map<string, Ration>();
  for (const { subject: pen, slot, lines } of meal) {
    for (const [to, feed, g] of lines) {
      const subject = to || pen;
      if (!subjects.includes(subject) || g <= 0) continue;
      const place = { subject, slot, feed };
      const { marks, hlc, ev } = view.rations[key_of(place)] ?? { marks: [], hlc: "", ev: "" };
      const so_far = amount_on(found.get(key_of(place))?.steps ?? [], day);
      found.set(key_of(place), { ...place, steps: [[day, so_far + g]], marks, hlc, ev });
    }
  }
  return [...found.values()];
}

/** An act that writes what stays as it is too: a plan of the changed lines alone would be a plan of nothing else. */
export function written_whole({ ctx, rations }: Presumed, act: Act): Act {
  const start = shift(ctx.day, 1);
  const held = new Map(act.lines.map((line) => [key_of(line), line]));
  const kept = rations.map((ration): ActLine => {
    const { subject, slot, feed } = ration;
    const g = amount_on(ration.steps, start);
    const to = Object.hasOwn(ctx.view.pens, subject) ? "pen" : "doe";
    const steps = held.get(key_of(ration))?.steps ?? [];
    return { subject, to, slot, feed, from_g: g, steps: steps[0]?.[0] === start ? steps : [[start, g], ...steps] };
  });
  const known = new Set(rations.map(key_of));
  const changed = kept.filter((line) => held.has(key_of(line)));
  const anew = act.lines.filter((line) => !known.has(key_of(line)));
  return { ...act, lines: [...changed, ...anew, ...kept.filter((line) => !held.has(key_of(line)))] };
}

function key_of({ subject, slot, feed }: { subject: string; slot: string; feed: string }): string {
  return place_key(subject, slot, feed);
}
