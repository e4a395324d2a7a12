import { div } from "../../base/ints.ts";
import { day_sums, part_of } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { dry_g } from "../feeding/sharing.ts";
import { ACT_KEPT_PM, AHEAD_D } from "../../tables/numbers.ts";
import { best, bowl_of, grain_of, of_class, type Barn, type Given } from "./barn.ts";
import { grams_of, parts_of } from "./containers.ts";
import { ahead_of, NOTHING } from "./forward.ts";
import { less_grain, more_grain, more_hay, type Rung } from "./rungs.ts";
import type { ActLine } from "./shapes.ts";

/** One feed for another, so that what the first took away the second gives back. */

/** Grain down step by step, and as much energy in hay that is seen eaten. */
export function hay_for_grain(barn: Barn): Rung[] {
  const hays = best(barn, of_class(barn, "grass", "mixed", "legume"));
  const { step_days } = barn.ctx.outlooks[barn.id]!.limits;
  const slowly = { every_d: step_days, kept_pm: 1000 };
  return grain_of(barn).flatMap((given) => hays.flatMap((hay) => exchange(barn, given, hay, slowly)));
}

/** Grain down, and hay for part of it: without it she would have too little long hay. */
export function hay_for_part(barn: Barn): Rung[] {
  const hays = best(barn, of_class(barn, "grass", "mixed"), true);
  const at_once = { every_d: 1, kept_pm: ACT_KEPT_PM };
  return grain_of(barn).flatMap((given) => hays.flatMap((hay) => exchange(barn, given, hay, at_once)));
}

function exchange(
  barn: Barn, given: Given, hay: string, { every_d, kept_pm }: { every_d: number; kept_pm: number },
): Rung[] {
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

/** Hay with more calcium and less energy in it, and grain for the energy. */
export function with_energy(barn: Barn, hays: Rung[]): Rung[] {
  const [grain] = best({ ...barn, of: "me" }, of_class(barn, "grain"));
  const more = grain ? more_grain(barn, "hay_and_grain", grain, barn.meals).at(-1) : undefined;
  if (!more) return [];
  const one_kj = Math.max(1, kj(barn.ctx, more.feed, grams_of(parts_of(barn.ctx, more.feed).at(-1)!, 1)));
  return hays.map((hay): Rung => {
    const lines = (n: number) => {
      const changed = hay.lines(n);
      const parts = Math.min(more.most, div(lost_kj(barn, changed) + one_kj - 1, one_kj));
      return changed.length && parts > 0 ? [...changed, ...more.lines(parts)] : [];
    };
    return { ...hay, code: "hay_and_grain", lines };
  });
}

/** Energy a day she gets less by it in a fortnight. */
function lost_kj({ ctx, id, unit, start }: Barn, lines: ActLine[]): number {
  const me = (of: ActLine[]) => day_sums(ahead_of(ctx, unit, of).planned, id, shift(start, AHEAD_D), true)?.got.me ?? 0;
  return me(NOTHING) - me(lines);
}

const kj = (ctx: Context, feed: string, g: number): number => part_of(ctx, feed, "me", dry_g(ctx, feed, g));
