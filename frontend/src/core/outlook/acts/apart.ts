import { div, sum } from "../../base/ints.ts";
import type { Step } from "../../state/view.ts";
import { leaves, waste_pm } from "../feeding/sharing.ts";
import { Context, shift } from "../ground/context.ts";
import { ACT_AIM_PM, ACT_APART_PARTS } from "../../tables/numbers.ts";
import { alone, barn_of, grain_of, hay_of, type Barn, type Given } from "./barn.ts";
import { grams_of, nearest_parts, parts_of } from "./containers.ts";
import { fewest } from "./fewest.ts";
import { Ahead, known_as } from "./forward.ts";
import { heard, OVER } from "./hearing.ts";
import { less_grain } from "./rungs.ts";
import type { ActLine, Lacking } from "./shapes.ts";
import { over_meals } from "./steps.ts";
import type { Trial } from "./trial.ts";

/**
 * Over at a feeder that is right for the others: what of its hay would be right for her alone, at a feeder of her own
 * and without grain. Tried on her along the same days; those who stay find what they found, since as much less goes in
 * as she ate. Empty where none is right, or it is another matter.
 */
export function* fed_apart(trial: Trial): Generator<void, Lacking["apart"]> {
  const { from, unit, id, goal } = trial;
  const barn = barn_of(from, unit, id, goal.of);
  if (!barn || goal.way !== "down" || goal.of !== "me" || alone(barn)) return [];
  // where others are over as well it is the feeder that is looked at
  const over = (mate: string) => OVER.some((code) => heard(trial.base.on(0), mate).codes.has(code));
  if (trial.mates.some(over)) return [];
  const hays = hay_of(barn, unit).filter(([feed]) => !leaves(from, id, feed));
  const moved = moved_out(from, id, barn.start);
  const tried = (n: number): [ActLine[], Ahead] => {
    const lines = [...no_grain(barn), ...own_hay(barn, hays, n)];
    return [lines, new Ahead(moved, unit, lines)];
  };
  const on = shift(from.day, trial.last_look());
  const at_need = (n: number) => trial.pm(tried(n)[1], on) >= ACT_AIM_PM.under;
  if (!hays.length) return [];
  const most = at_need(ACT_APART_PARTS) ? (yield* fewest(ACT_APART_PARTS, at_need)) - 1 : ACT_APART_PARTS;
  const [lines, ahead] = tried(most);
  known_as(from, unit, lines, ahead);
  const verdict = yield* trial.try(lines, trial.mates);
  return verdict === "good" || verdict === "slow" ? amounts(lines) : [];
}

/** The farm with her out of the feeder's pen from a day on. */
function moved_out(from: Context, id: string, on: string): Context {
  const doe = from.doe(id);
  const moves: typeof doe.moves = [...doe.moves, [on, ""]];
  const { view, outlooks, book, day } = from;
  return new Context({ ...view, does: { ...view.does, [id]: { ...doe, moves } } }, outlooks, book, day, from);
}

function no_grain(barn: Barn): ActLine[] {
  const rungs = grain_of(barn).flatMap((given) => less_grain(barn, "grain_down", given, 1).slice(-1));
  return rungs.flatMap((rung) => rung.lines(rung.most)).map((line): ActLine => {
    const [last] = line.steps.slice(-1) as [Step];
    return { ...line, steps: [...line.steps.slice(0, -1), [last[0], 0]] };
  });
}

/** So many parts of all she could eat, of each hay as much as the feeder holds of it; it wastes some as well. */
function own_hay({ ctx, id, meals, start, appetite_g }: Barn, hays: Given[], n: number): ActLine[] {
  const whole = Math.max(1, sum(hays.map(([, , g]) => g)));
  return hays.flatMap(([feed, , g]) => {
    const [part] = parts_of(ctx, feed).slice(-1);
    const dry = div(div(div(appetite_g * n, ACT_APART_PARTS) * g, whole) * 1000, 1000 - waste_pm(ctx, id, feed));
    const parts = part ? nearest_parts(part, div(dry * 1000, ctx.feed(feed)!.dm_pm!)) : 0;
    return over_meals(parts, meals.length).flatMap((each, i): ActLine[] => {
      const place = { subject: id, to: "doe" as const, slot: meals[i]!, feed };
      return each ? [{ ...place, from_g: 0, steps: [[start, grams_of(part!, each)]] }] : [];
    });
  });
}

/** A day, once all of it is in; of hay alone, since no grain is left. */
function amounts(lines: ActLine[]): Lacking["apart"] {
  const found = new Map<string, number>();
  for (const { feed, steps } of lines) found.set(feed, (found.get(feed) ?? 0) + steps.at(-1)![1]);
  return [...found].filter(([, g]) => g > 0);
}
