import { div, sum } from "../../base/ints.ts";
import { day_sums } from "../balance/balance.ts";
import { waste_pm } from "../feeding/sharing.ts";
import { barn_of, hay_of } from "./barn.ts";
import { ahead_of, type Ahead } from "./forward.ts";
import { less_hay } from "./rungs.ts";
import type { ActLine } from "./shapes.ts";
import type { Trial } from "./trial.ts";

/**
 * What one doe gets of her own she leaves in the feeder to the others: as much less goes in, so that they get what they
 * got. Null where they get no more by it.
 */
export function balanced(trial: Trial, lines: ActLine[]): ActLine[] | null {
  const { from, unit, id, goal, base } = trial;
  const barn = barn_of(from, unit, id, goal.of);
  const [main] = barn ? hay_of(barn, unit) : [];
  if (!barn || !main || lines.some(({ to }) => to === "pen")) return null;
  const on = lines.flatMap(({ steps }) => steps.map(([date]) => date)).sort().at(-1)!;
  const then = ahead_of(from, unit, lines);
  const mates = from.pen_mates(unit, on).filter((mate) => mate !== id);
  const eat = (ahead: Ahead) => sum(mates.map((mate) => day_sums(ahead.planned, mate, on, true)?.dm ?? 0));
  const more = eat(then) - eat(base);
  const spare = more > 0 ? div(more * 1000, 1000 - waste_pm(from, unit, main[0])) : 0;
  for (const rung of less_hay(barn, "own_bowl", unit, main)) {
    const parts = rung.one_g ? div(spare, rung.one_g) : 0;
    if (parts > 0) return [...lines, ...rung.lines(Math.min(parts, rung.most))];
  }
  return null;
}
