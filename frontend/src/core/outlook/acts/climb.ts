import { div } from "../../base/ints.ts";
import { once, shift } from "../ground/context.ts";
import {
  ACT_AIM_PM, ACT_FURTHEST, ACT_HALVED, ACT_HOLDS_D, ACT_OFFERED, ACT_TELLS_PM, ACT_TRIED, AHEAD_D,
} from "../../tables/numbers.ts";
import { reaches } from "./aims.ts";
import { balanced } from "./balanced.ts";
import { fewest } from "./fewest.ts";
import { ahead_of, NOTHING } from "./forward.ts";
import type { Rung } from "./rungs.ts";
import type { Act, ActLine, Brings } from "./shapes.ts";
import type { Trial, Verdict } from "./trial.ts";

/** Those that bring her back within the week; where none does, those whose steps take longer. */
export function* climb(trial: Trial, ladder: Rung[], most = ACT_OFFERED): Generator<void, Act[]> {
  const found: Record<"good" | "slow", Act[]> = { good: [], slow: [] };
  for (const rung of ladder) {
    if (found.good.length >= most) break;
    yield;
    if (found.good.some(({ code }) => code === rung.code)) continue;
    const [verdict, lines] = yield* least(trial, rung);
    if (!lines || found[verdict].some((act) => act.code === rung.code || same(act.lines, lines))) continue;
    found[verdict].push(told(trial, rung, lines, verdict === "slow"));
  }
  return (found.good.length ? found.good : found.slow).slice(0, most);
}

/** Legume down and plainer hay in its place may come to one and the same plan. */
function same(a: ActLine[], b: ActLine[]): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** What brings most where no sums reach what is aimed at: it may leave nothing to be said all the same. */
export function* furthest(trial: Trial, ladder: Rung[]): Generator<void, { act: Act; does: boolean } | null> {
  const kept: { rung: Rung; lines: ActLine[]; gains: number }[] = [];
  for (const rung of ladder) {
    const lines = yield* most_kept(trial, rung);
    if (lines.length) kept.push({ rung, lines, gains: gain(trial, lines) });
  }
  // what comes down comes down for her alone before it does for all
  const alone = ({ lines }: { lines: ActLine[] }) => Number(trial.goal.way === "down" && lines.every(of_hers));
  const best = kept.filter(({ gains }) => gains > ACT_TELLS_PM)
    .sort((a, b) => alone(b) - alone(a) || b.gains - a.gains);
  for (const { rung, lines } of best.slice(0, ACT_FURTHEST)) {
    const verdict = yield* trial.try(lines, [], true);
    if (verdict !== "out") return { act: told(trial, rung, lines, verdict !== "good"), does: verdict !== "still" };
  }
  return null;
}

const of_hers = ({ to }: ActLine): boolean => to === "doe";

/** How much nearer she comes, in a fortnight and in the end. */
function gain(trial: Trial, lines: ActLine[]): number {
  const on = [AHEAD_D, ACT_HOLDS_D].map((days) => shift(trial.from.day, days));
  const by = (tried: ActLine[]) => {
    const ahead = ahead_of(trial.from, trial.unit, tried);
    return on.reduce((so_far, day) => so_far + trial.pm(ahead, day), 0);
  };
  return (trial.goal.way === "down" ? -1 : 1) * (by(lines) - by(NOTHING));
}

/** As much of a rung as keeps the limits, and what comes down no farther than to her need. */
function* most_kept(trial: Trial, rung: Rung): Generator<void, ActLine[]> {
  const on = shift(trial.from.day, trial.last_look());
  const enough = (lines: ActLine[]) =>
    trial.goal.way === "up" || trial.pm(ahead_of(trial.from, trial.unit, lines), on) >= ACT_AIM_PM.under;
  const past = (n: number) => {
    const lines = rung.lines(n);
    return !lines.length || !trial.keeps(lines) || !enough(lines);
  };
  if (rung.most < 1) return [];
  const n = past(rung.most) ? (yield* fewest(rung.most, past)) - 1 : rung.most;
  return n > 0 ? rung.lines(n) : [];
}

export type Least = ["good" | "slow", ActLine[] | null];

/** The smallest amount of a rung that the evaluator finds does it. */
export function* least(trial: Trial, rung: Rung): Generator<void, Least> {
  const { id, goal, until_d } = trial;
  const tried = new Map<number, ActLine[]>();
  const lines_of = (n: number) => once(tried, n, () => rung.lines(n));
  const enough = (n: number) => {
    const lines = lines_of(n);
    return lines.length > 0 && reaches(ahead_of(trial.from, trial.unit, lines), id, goal, until_d);
  };
  if (rung.most < 1) return ["slow", null];
  const whole = enough(rung.most);
  yield;
  const first = whole ? yield* fewest(rung.most, enough) : 0;
  // silence may come before the sums are where they should be
  if (goal.way === "down") return yield* eased(trial, { ...rung, lines: lines_of }, first || rung.most);
  const apt = first > 0 && trial.keeps(lines_of(first)) && !(rung.coarse && trial.past_need(lines_of(first)));
  return apt ? yield* near(trial, { ...rung, lines: lines_of }, first) : ["slow", null];
}

/**
 * From the amount that should do it: more where it does not yet, less where it puts somebody out, each time twice as
 * far and never to and fro.
 */
function* near(trial: Trial, rung: Rung, first: number): Generator<void, Least> {
  let slow: Least = ["slow", null];
  let [n, by] = [first, 0];
  for (let tried = 0; tried < ACT_TRIED && n > 0 && n <= rung.most; tried++, n += by) {
    const [verdict, lines] = yield* tried_with_mates(trial, rung.lines(n));
    if (verdict === "good") return ["good", lines];
    if (verdict === "slow") slow = ["slow", slow[1] ?? lines];
    const way = verdict === "out" && !trial.lacks ? -1 : 1;
    if (by * way < 0) break;
    by = by ? 2 * by : way;
  }
  return slow;
}

/**
 * Between what is too little and what puts somebody out: from the amount that should do it to the least that does. All
 * else is looked at last, the least of it first: it moves her, and whoever stands beside her, least.
 */
function* eased(trial: Trial, rung: Rung, first: number): Generator<void, Least> {
  let slow: Least = ["slow", null];
  for (const lines of yield* not_too_little(trial, rung, first)) {
    const [verdict, found] = yield* tried_with_mates(trial, lines);
    if (verdict === "good") return [verdict, found];
    if (verdict === "slow" && !slow[1]) slow = [verdict, found];
  }
  return slow;
}

/** The least first. What is past a limit by the plan alone is not tried. */
function* not_too_little(trial: Trial, rung: Rung, first: number): Generator<void, ActLine[][]> {
  const found: ActLine[][] = [];
  let [too_few, too_many, n] = [0, rung.most + 1, first];
  for (let tried = 0; tried < ACT_HALVED && n > too_few && n < too_many; tried++) {
    const lines = rung.lines(n);
    const kept = lines.length > 0 && trial.keeps(lines);
    if (kept && (!tells(trial, lines) || (yield* trial.too_little(lines)))) {
      too_few = n;
    } else {
      too_many = n;
      if (kept) found.unshift(lines);
    }
    n = div(too_few + too_many, 2);
  }
  return found;
}

/** Silence may come of itself, by a date or another word: what brings nothing anybody could see is no act. */
function tells(trial: Trial, lines: ActLine[]): boolean {
  const { from_pm, to_pm } = brings_of(trial, lines);
  return 2 * (from_pm - to_pm) >= ACT_TELLS_PM;
}

/** As it is, or with so much less in the feeder that her mates find what they found before. */
function* tried_with_mates(trial: Trial, lines: ActLine[]): Generator<void, [Verdict, ActLine[]]> {
  if (!lines.length) return ["out", lines];
  const verdict = yield* trial.try(lines);
  for (const even of verdict === "out" && trial.by_mate ? yield* balanced(trial, lines) : []) {
    const beside = yield* trial.try(even);
    if (beside !== "out") return [beside, even];
  }
  return [verdict, lines];
}

export function told(
  trial: Trial, { code, to, subject }: Pick<Rung, "code" | "to" | "subject">, lines: ActLine[], slow: boolean,
): Act {
  return { code, to, subject, lines, brings: brings_of(trial, lines), slow, ends_on: ends_on([trial], lines) };
}

/** After the last of its steps in any case. */
export function ends_on(trials: Trial[], lines: ActLine[]): string {
  const tried = trials.map(({ from, until_d }) => shift(from.day, until_d + 1)).sort()[0]!;
  const whole = shift(lines.flatMap(({ steps }) => steps.map(([on]) => on)).sort().at(-1)!, 1);
  return tried > whole ? tried : whole;
}

/** Share of need on the day on which the plan as it is lies farthest off: with it, and with the act. */
export function brings_of(trial: Trial, lines: ActLine[]): Brings {
  const last = lines.flatMap(({ steps }) => steps.map(([on]) => on)).sort().at(-1)!;
  const [ahead, by_on] = [ahead_of(trial.from, trial.unit, lines), trial.worst_on(last)];
  return { of: trial.goal.of, from_pm: trial.pm(trial.base, by_on), to_pm: trial.pm(ahead, by_on), by_on };
}
