import { div, sum } from "../../base/ints.ts";
import { amount_on } from "../../state/planned.ts";
import type { Step } from "../../state/view.ts";
import { day_sums } from "../balance/balance.ts";
import { is_forage } from "../ground/feed_classes.ts";
import { barn_of, hay_of } from "./barn.ts";
import { fewest } from "./fewest.ts";
import { ahead_of } from "./forward.ts";
import { less_hay, type Rung } from "./rungs.ts";
import type { ActLine } from "./shapes.ts";
import type { Trial } from "./trial.ts";

/**
 * What one doe, or each of those `given` it, gets of her own she leaves in the feeder to the others: as much less goes
 * in, so that they get what they got. By the container, then by the scale; none where they get no more by it.
 */
export function* balanced(trial: Trial, lines: ActLine[], given = [trial.id]): Generator<void, ActLine[][]> {
  const { from, unit, id, goal, base } = trial;
  const barn = barn_of(from, unit, id, goal.of);
  const [main] = barn ? hay_of(barn, unit) : [];
  if (!barn || !main || lines.some(({ to }) => to === "pen")) return [];
  const on = lines.flatMap(({ steps }) => steps.map(([date]) => date)).sort().at(-1)!;
  const mates = from.pen_mates(unit, on).filter((mate) => !given.includes(mate));
  const eat = ({ planned }: Pick<typeof base, "planned">) =>
    sum(mates.map((mate) => day_sums(planned, mate, on, true)?.dm ?? 0));
  const had = eat(base);
  if (eat(ahead_of(from, unit, lines)) <= had) return [];
  const hay = lines.filter(({ feed }) => is_forage(from.feed(feed)));
  const found: ActLine[][] = [];
  const ways = less_hay(barn, "own_bowl", unit, main);
  for (const rung of ways) {
    // of what is taken out she gives up a part, and they the rest
    const no_more = (parts: number) => eat(ahead_of(from, unit, [...lines, ...rung.lines(parts)])) <= had;
    yield;
    const parts = rung.most > 0 && no_more(rung.most) ? yield* fewest(rung.most, no_more) : 0;
    // a little more than they had; or, where it is weighed, a little less
    const either = [parts - 1, ...(rung === ways.at(-1) ? [parts] : [])].filter((each) => each > 0);
    found.push(...either.map((each) => [...lines, ...paced(hay, rung, each)]));
  }
  return found;
}

/** Out of the feeder goes on each day as much as she has come to get of her own by then. */
function paced(hay: ActLine[], rung: Rung, parts: number): ActLine[] {
  const whole = rung.lines(parts);
  const dates = [...new Set(hay.flatMap(({ steps }) => steps.map(([date]) => date)))].sort();
  if (!dates.length || whole.some(({ steps }) => steps.length > 1)) return whole;
  const gets = (date: string) =>
    sum(hay.map(({ from_g, steps }) => (steps[0]![0] > date ? 0 : Math.max(0, amount_on(steps, date) - from_g))));
  const last = Math.max(1, gets(dates.at(-1)!));
  return whole.map((line, i): ActLine => {
    const steps = dates.flatMap((date): Step[] => {
      const so_far = rung.lines(div(parts * gets(date), last))[i];
      return so_far ? [[date, so_far.steps[0]![1]]] : [];
    });
    const moves = steps.filter(([, g], k) => g !== (steps[k - 1]?.[1] ?? line.from_g));
    return moves.length ? { ...line, steps: moves } : line;
  });
}
