import { div, sum } from "../../base/ints.ts";
import { amount_on, place_key } from "../../state/planned.ts";
import { SLOTS } from "../ground/context.ts";
import { grain_of, type Barn, type Given } from "./barn.ts";
import { grams_of, parts_of, whole_parts, type Part } from "./containers.ts";
import type { Rung } from "./rungs.ts";
import { line_anew, over_meals } from "./steps.ts";

/** Grain that is too much for each of its meals, given alike at one meal more, then at two; the day's total stays. */
export function spread_grain(barn: Barn): Rung[] {
  return grain_of(barn).flatMap((given) => parts_of(barn.ctx, given[0]).flatMap((part) => spread(barn, given, part)));
}

function spread({ ctx, id, start, meals }: Barn, [feed, had]: Given, part: Part): Rung[] {
  const held = (slot: string) => amount_on(ctx.view.rations[place_key(id, slot, feed)]?.steps ?? [], start);
  const parts = whole_parts(part, sum(had.map(held)), false);
  // a meal she has already before one somebody has to come out for
  const free = SLOTS.filter((slot) => !had.includes(slot))
    .sort((a, b) => Number(meals.includes(b)) - Number(meals.includes(a)));
  return free.map((_, more): Rung => {
    const at = SLOTS.filter((slot) => had.includes(slot) || free.slice(0, more + 1).includes(slot));
    const each = over_meals(parts, at.length);
    const lines = () =>
      at.flatMap((slot, i) => {
        const g = grams_of(part, each[i]!);
        return g === held(slot) ? [] : [line_anew(ctx, { subject: id, to: "doe", slot, feed }, [[start, g]])];
      });
    return { code: "hold_split", to: "doe", subject: id, feed, most: div(parts, at.length) ? 1 : 0, lines };
  });
}
