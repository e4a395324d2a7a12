import { div } from "../../base/ints.ts";
import { amount_on } from "../../state/planned.ts";
import type { Step } from "../../state/view.ts";
import { shift, type Context } from "../ground/context.ts";
import { ACT_SWITCH_PARTS } from "../../tables/numbers.ts";
import { grams_of, whole_parts, type Part } from "./containers.ts";
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
  const [whole, rest] = [div(Math.abs(n), meals), Math.abs(n) % meals];
  return Array.from({ length: meals }, (_, i) => Math.sign(n) * (whole + (i < rest ? 1 : 0)));
}

/** The same at each meal, or at as many meals as there are parts: hay is not counted out. */
export function even_meals(n: number, meals: number): number[] {
  const each = Math.abs(n) < meals ? 0 : div(Math.abs(n) + meals - 1, meals);
  return Array.from({ length: meals }, (_, i) => Math.sign(n) * (each || (i < Math.abs(n) ? 1 : 0)));
}

/** All at once, or a change of forage a quarter at a time over so many days; by meal. */
export function forage_changes(n: number, over_d: number, start: string, shared: (n: number) => number[]): Change[][] {
  const changes = shared(n).map((): Change[] => []);
  for (let part = over_d ? 1 : ACT_SWITCH_PARTS; part <= ACT_SWITCH_PARTS; part++) {
    const on = over_d ? shift(start, div(over_d * (part - 1), ACT_SWITCH_PARTS - 1)) : start;
    const so_far = Math.sign(n) * div(Math.abs(n) * part + ACT_SWITCH_PARTS - 1, ACT_SWITCH_PARTS);
    shared(so_far).forEach((parts, i) => {
      if (parts && parts !== changes[i]!.at(-1)?.[1]) changes[i]!.push([on, parts]);
    });
  }
  return changes;
}

/** So many parts at each meal, a few of them a step and some days between, going from meal to meal; by meal. */
export function stepped(counts: number[], each: number, start: string, every_d: number): Change[][] {
  const [changes, done] = [counts.map((): Change[] => []), counts.map(() => 0)];
  const left = (i: number) => Math.abs(counts[i]!) - done[i]!;
  for (let step = 0; counts.some((_, i) => left(i)); step++) {
    const moved = new Set<number>();
    for (let n = 0; n < each && counts.some((_, i) => left(i)); n++) {
      const most = counts.reduce((at, _, i) => (left(i) > left(at) ? i : at), 0);
      done[most]! += 1;
      moved.add(most);
    }
    for (const i of moved) changes[i]!.push([shift(start, step * every_d), Math.sign(counts[i]!) * done[i]!]);
  }
  return changes;
}

/**
 * The line with its changes: amounts that are whole parts of her container, steps already planned kept and moved by as
 * much.
 */
export function line_of(ctx: Context, place: Place, part: Part, changes: Change[]): ActLine {
  const held = ctx.view.rations[`${place.subject}|${place.slot}|${place.feed}`]?.steps ?? [];
  const start = changes[0]![0];
  const dates = new Set([...changes.map(([on]) => on), ...held.map(([on]) => on).filter((on) => on > start)]);
  const steps = [...dates].sort().map((on): Step => {
    const [more, planned] = [amount_on(changes, on), amount_on(held, on)];
    return [on, more ? grams_of(part, Math.max(0, whole_parts(part, planned, more < 0) + more)) : planned];
  });
  return { ...place, from_g: amount_on(held, start), steps };
}

/** The line with other steps in the place of all that were to come. */
export function line_anew(ctx: Context, place: Place, steps: Step[]): ActLine {
  const held = ctx.view.rations[`${place.subject}|${place.slot}|${place.feed}`]?.steps ?? [];
  return { ...place, from_g: amount_on(held, steps[0]![0]), steps };
}
