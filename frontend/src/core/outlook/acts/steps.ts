import { div } from "../../base/ints.ts";
import { amount_on } from "../../state/rations.ts";
import type { Step } from "../../state/view.ts";
import { shift, type Context } from "../context.ts";
import { ACT_SWITCH_D, ACT_SWITCH_PARTS } from "../../tables/numbers.ts";
import { grams_of, nearest_parts, type Part } from "./containers.ts";
import type { ActLine } from "./shapes.ts";

/** A line of the plan and whose it is. */
export interface Place {
  subject: string;
  to: "doe" | "pen";
  slot: string;
  feed: string;
}

/** So many parts more, negative less, from a date on; of one place, in the order of dates. */
export type Change = [on: string, parts: number];

/** Parts shared out over the meals, the first taking what is over. */
export function over_meals(n: number, meals: number): number[] {
  return Array.from({ length: meals }, (_, i) => Math.sign(n) * (div(Math.abs(n), meals) + (i < Math.abs(n) % meals ? 1 : 0)));
}

/** All at once, or a change of forage a quarter at a time. */
export function forage_changes(n: number, start: string, gently: boolean): Change[] {
  if (!gently) return [[start, n]];
  const changes: Change[] = [];
  for (let part = 1; part <= ACT_SWITCH_PARTS; part++) {
    const [on, so_far] = [
      shift(start, div(ACT_SWITCH_D * (part - 1), ACT_SWITCH_PARTS - 1)),
      Math.sign(n) * div(Math.abs(n) * part + ACT_SWITCH_PARTS - 1, ACT_SWITCH_PARTS),
    ];
    if (so_far !== changes.at(-1)?.[1]) changes.push([on, so_far]);
  }
  return changes;
}

/**
 * The line with its changes: amounts that are whole parts of her container, steps already planned kept and moved by as
 * much.
 */
export function line_of(ctx: Context, place: Place, part: Part, changes: Change[], ends_on = ""): ActLine {
  const held = ctx.view.rations[`${place.subject}|${place.slot}|${place.feed}`]?.steps ?? [];
  const start = changes[0]![0];
  const dates = new Set([...changes.map(([on]) => on), ...held.map(([on]) => on).filter((on) => on > start)]);
  const steps = [...dates].sort().filter((on) => !ends_on || on < ends_on).map((on): Step => {
    const more = amount_on(changes, on);
    const whole = nearest_parts(part, amount_on(held, on));
    return [on, more ? grams_of(part, Math.max(0, whole + more)) : amount_on(held, on)];
  });
  if (ends_on) steps.push([ends_on, amount_on(held, ends_on)], ...held.filter(([on]) => on > ends_on));
  return { ...place, from_g: amount_on(held, start), steps };
}
