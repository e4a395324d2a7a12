import { day_sums, permille } from "../balance/balance.ts";
import { shift } from "../ground/context.ts";
import { floor_on } from "../balance/reach.ts";
import { BOUGHT } from "../../tables/codes.ts";
import { ACT_AIM_PM, AHEAD_D } from "../../tables/numbers.ts";
import type { Barn } from "./barn.ts";
import { least } from "./climb.ts";
import type { Rung } from "./rungs.ts";
import type { ActLine, Lacking } from "./shapes.ts";
import type { Trial } from "./trial.ts";

/** What would do it that is not on the farm; where no feed would, how far off she stays and for how long. */
export function* lacking(
  trial: Trial, barn: Barn, ladder: (barn: Barn) => Rung[],
): Generator<void, Omit<Lacking, "helps"> | null> {
  const off = how_far(trial);
  for (const feed of BOUGHT.filter((each) => barn.ctx.feed(each) && !barn.hand.includes(each))) {
    const rungs = ladder({ ...barn, hand: [...barn.hand, feed] }).filter((rung) => rung.feed === feed);
    for (const rung of rungs) {
      const [, lines] = yield* least(trial, rung);
      if (lines) return { ...off, feed, g: grams(lines, feed) };
    }
  }
  return off.days ? { ...off, feed: "", g: 0 } : null;
}

function grams(lines: ActLine[], feed: string): number {
  return lines.filter((line) => line.feed === feed).reduce((g, { steps }) => g + steps.at(-1)![1], 0);
}

/**
 * The days of the plan that lie off what is aimed at, and the farthest of them; of what she lacks late against what she
 * can eat to.
 */
function how_far(trial: Trial): Pick<Lacking, "pm" | "days"> {
  const { base, id, goal, from, until_d } = trial;
  const [offs, up] = [[] as number[], goal.way === "up" && goal.of === "me"];
  for (let k = 1; k <= Math.min(AHEAD_D, until_d); k++) {
    const on = shift(from.day, k);
    const sums = day_sums(base.planned, id, on, true);
    if (sums === null || sums.need[goal.of] <= 0) continue;
    const against = (up && !goal.whole && floor_on(base.planned, id, on)) || sums.need[goal.of];
    const ratio = permille(sums.got[goal.of], against);
    offs.push(goal.way === "down" ? ratio - 1000 : 1000 - ratio);
  }
  return { pm: Math.max(0, ...offs), days: offs.filter((off) => off > 1000 - ACT_AIM_PM.down).length };
}
