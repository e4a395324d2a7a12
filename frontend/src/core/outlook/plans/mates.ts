import { div, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { amount_on } from "../../state/planned.ts";
import { changes_of, type ActLine } from "../acts/shapes.ts";
import { day_sums, permille } from "../balance/balance.ts";
import { found_between } from "../gates/gates.ts";
import { standing } from "../ground/branches.ts";
import { shift, type Context } from "../ground/context.ts";
import { is_forage } from "../ground/feed_classes.ts";
import { ACT_MATE_PM, PLAN_LEGUME_MOST, ROUND_G, WEEK_D } from "../../tables/numbers.ts";
import { given_to, unit_at, with_lines } from "./places.ts";
import type { Nutrient } from "../ground/shapes.ts";
import type { Mate } from "./shapes.ts";

/** A plan tried on whoever eats from her feeder: what she eats more of there is theirs no longer. */
export interface Tried {
  lines: ActLine[];
  /** Who would go short by it, and still does where no more hay mends it. */
  mates: Mate[];
  /** More hay goes into her feeder with it, so that nobody does. */
  mended: boolean;
}

export function tried_on_mates(from: Context, id: string, lines: ActLine[]): Tried {
  const [unit, first] = [unit_at(from, id), lines.flatMap(({ steps }) => steps[0]![0]).sort(compareText)[0]];
  const mates = from.pen_mates(unit, from.day).filter((mate) => mate !== id && from.here(mate));
  if (!first || !mates.length) return { lines, mates: [], mended: false };
  const hurt = hurt_by(from, mates, lines);
  if (!hurt.length) return { lines, mates: [], mended: false };
  for (const more of more_hay(from, unit, first)) {
    const all = [...lines, ...more];
    const left = hurt_by(from, mates, all);
    if (!left.length && !found_between(from, with_lines(from, all), changes_of(all)).length)
      return { lines: all, mates: hurt, mended: true };
  }
  return { lines, mates: hurt, mended: false };
}

/** On the days on which something changes, and a week after the last of them; each doe once, at her worst. */
function hurt_by(from: Context, mates: string[], lines: ActLine[]): Mate[] {
  const then = with_lines(from, lines);
  const days = [...new Set(lines.flatMap(({ steps }) => steps.map(([on]) => on)))].sort(compareText);
  const looks = [...days, shift(days.at(-1)!, WEEK_D)];
  return mates.filter((id) => standing(from, id) === "ok").flatMap((doe) => {
    const found = looks.flatMap((on) => LOOKED_AT.flatMap((of) => worse(from, then, { doe, of, on })));
    return found.sort((a, b) => a.to_pm - a.from_pm - (b.to_pm - b.from_pm)).slice(0, 1);
  });
}

const LOOKED_AT: readonly Nutrient[] = ["me", "ca"];

/** Clearly less, and too little; or clearly more, and too much. */
function worse(from: Context, then: Context, { doe, of, on }: Pick<Mate, "doe" | "of" | "on">): Mate[] {
  const [before, after] = [from, then].map((ctx) => day_sums(ctx, doe, on, true));
  if (!before || !after || after.extra[of]) return [];
  const [from_pm, to_pm] = [before, after].map(({ got, need }) => permille(got[of], need[of])) as [number, number];
  const level = from.rule("level_pm");
  const short = to_pm < from_pm - ACT_MATE_PM && to_pm < 1000 - level;
  const over = of === "me" && to_pm > from_pm + ACT_MATE_PM && to_pm > 1000 + level;
  return short || over ? [{ doe, of, on, from_pm, to_pm }] : [];
}

/** More of her feeder's hay as it is made up, at each of its meals, the least first. */
function more_hay(from: Context, unit: string, first: string): ActLine[][] {
  const given = given_to(from, unit).filter(({ feed }) => is_forage(from.feed(feed)));
  const hay = given.filter(({ steps }) => amount_on(steps, first) > 0);
  const meals = new Set(hay.map(({ slot }) => slot)).size;
  const total = sum(hay.map(({ steps }) => amount_on(steps, first)));
  const [coarse, fine] = [Math.max(...ROUND_G.forage), Math.min(...ROUND_G.forage)];
  return Array.from({ length: total ? PLAN_LEGUME_MOST : 0 }, (_, k) =>
    hay.flatMap(({ subject, slot, feed, steps }): ActLine[] => {
      const from_g = amount_on(steps, first);
      const more_g = div(div((k + 1) * coarse * meals * from_g, total) + fine - 1, fine) * fine;
      return [{ subject, to: "pen", slot, feed, from_g, steps: [[first, from_g + more_g]] }];
    }),
  );
}
