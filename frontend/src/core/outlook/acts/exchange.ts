import { div } from "../../base/ints.ts";
import { part_of } from "../balance/balance.ts";
import type { Context } from "../ground/context.ts";
import { dry_g } from "../feeding/sharing.ts";
import { ACT_KEPT_PM } from "../../tables/numbers.ts";
import { best, bowl_of, grain_of, of_class, type Barn, type Given } from "./barn.ts";
import { grams_of, parts_of } from "./containers.ts";
import { less_grain, more_hay, type Rung } from "./rungs.ts";

/** Grain down step by step, and as much energy in hay that is seen eaten. */
export function hay_for_grain(barn: Barn): Rung[] {
  const hays = best(barn, of_class(barn, "grass", "mixed", "legume"));
  const { step_days } = barn.ctx.outlooks[barn.id]!.limits;
  return grain_of(barn).flatMap((given) => hays.flatMap((hay) => exchange(barn, given, hay, 1000, step_days)));
}

/** Grain down, and hay for part of it: without it she would have too little long hay. */
export function hay_for_part(barn: Barn): Rung[] {
  const hays = best(barn, of_class(barn, "grass", "mixed"), true);
  return grain_of(barn).flatMap((given) => hays.flatMap((hay) => exchange(barn, given, hay, ACT_KEPT_PM, 1)));
}

function exchange(barn: Barn, given: Given, hay: string, kept_pm: number, every_d: number): Rung[] {
  const { ctx, meals } = barn;
  const more = more_hay(barn, "hay_for_grain", bowl_of(barn), hay, meals).at(-1);
  if (!more) return [];
  const one_kj = Math.max(1, kj(ctx, hay, grams_of(parts_of(ctx, hay).at(-1)!, 1)));
  return less_grain(barn, "hay_for_grain", given, every_d).map((less): Rung => {
    const lines = (n: number) => {
      const fewer = less.lines(n);
      const gone = fewer.reduce((g, { from_g, steps }) => g + from_g - steps.at(-1)![1], 0);
      const parts = div(div(kj(ctx, given[0], gone) * kept_pm, 1000) + one_kj - 1, one_kj);
      return parts ? [...fewer, ...more.lines(parts)] : fewer;
    };
    return { ...less, lines };
  });
}

const kj = (ctx: Context, feed: string, g: number): number => part_of(ctx, feed, "me", dry_g(ctx, feed, g));
