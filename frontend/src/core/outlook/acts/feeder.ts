import { standing } from "../ground/branches.ts";
import { Context, days_between, shift } from "../ground/context.ts";
import type { Step } from "../../state/view.ts";
import type { Nutrient } from "../ground/shapes.ts";
import { leaves } from "../feeding/sharing.ts";
import type { Unit } from "../whole/units.ts";
import { ACT_ROUNDS, ACT_TRIED } from "../../tables/numbers.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { reaches } from "./aims.ts";
import { asks, rungs, type Asked } from "./asking.ts";
import { balanced } from "./balanced.ts";
import { barn_of, best, hay_of, of_class, worth, type Barn } from "./barn.ts";
import { answered_on, healed } from "./by_plan.ts";
import { brings_of, climb, ends_on } from "./climb.ts";
import { fewest } from "./fewest.ts";
import { ahead_of, known_as } from "./forward.ts";
import { GOALS } from "../verdict/goals.ts";
import { hungry } from "./ladder.ts";
import { merged } from "./on_top.ts";
import { less_hay, more_hay, type Rung } from "./rungs.ts";
import { NO_ACTS, type Act, type ActLine, type Acts } from "./shapes.ts";
import { Trial, type Verdict } from "./trial.ts";

/** Several at one feeder for whom something is to be done: it is decided once, for all of them. */
export interface Group {
  of: Nutrient;
  does: { id: string; asked: Asked }[];
  said: (id: string) => PromptCode;
}

const ABOUT_AMOUNT: readonly string[] = ["up", "down"];

/** Two or more whose energy is off, or a cause the pen shares; null where each is a matter of her own. */
export function* feeder_group(from: Context, unit: string, { does, prompt }: Unit): Generator<void, Group | null> {
  if (!Object.hasOwn(from.view.pens, unit)) return null;
  const asked: Group["does"] = [];
  for (const id of Object.keys(does)) {
    const found = asks(from, id, does[id]!);
    if (found && ABOUT_AMOUNT.includes(found[1].way)) asked.push({ id, asked: found });
    yield;
  }
  const of_energy = asked.filter((each) => each.asked[1].of === "me");
  const shared = asked.filter((each) => each.asked[0] === prompt?.code);
  const group = of_energy.length > 1 ? of_energy : shared;
  if (group.length < 2) return null;
  return {
    of: group[0]!.asked[1].of, does: group, said: (id) => group.find((each) => each.id === id)!.asked[0],
  };
}

/** What goes into the feeder first, then who gets more or less of her own beside it. */
export function* feeder_plan(from: Context, unit: string, { of, does, said }: Group): Generator<void, Acts> {
  const trials = does.map(({ id, asked: [, goal] }) => new Trial(from, unit, id, goal));
  const found: Acts = { ...NO_ACTS, for: said(does[0]!.id), of };
  const open: Trial[] = [];
  let last = 0;
  for (const trial of trials) {
    const days = yield* healed(trial);
    if (days === null) open.push(trial);
    else last = Math.max(last, days);
  }
  if (!open.length) return { ...found, ...answered_on(trials as [Trial, ...Trial[]], last) };
  const [shared, rest] = yield* in_feeder(from, unit, of, open, mates_of(from, unit, open));
  let lines = shared?.lines ?? [];
  for (const trial of rest) lines = yield* beside(from, unit, lines, trial);
  const act = lines.length
    ? (yield* whole(unit, lines, open, shared)) ?? (yield* whole(unit, feeder_last(lines), open, shared))
    : null;
  const or_own = act ?? (yield* own_bowls(from, unit, open));
  return { ...found, offered: or_own ? [or_own] : [] };
}

/** Those of whom nothing is said as things are: none of them may come to be short. */
function mates_of(from: Context, unit: string, open: Trial[]): Trial[] {
  const ids = from.pen_mates(unit, from.day).filter((id) => from.here(id) && !open.some((trial) => trial.id === id));
  const kept = ids.filter((id) => standing(from, id) === "ok");
  return kept.map((id) => new Trial(from, unit, id, GOALS.energy_short!));
}

/** One change of what all of them share that answers most of those who want the same. */
function* in_feeder(
  from: Context, unit: string, of: Nutrient, open: Trial[], mates: Trial[],
): Generator<void, [shared: Pick<Act, "code" | "lines"> | null, rest: Trial[]]> {
  const [ups, downs] = ["up", "down"].map((way) => open.filter(({ goal }) => goal.way === way)) as [Trial[], Trial[]];
  const [group, others] = ups.length >= downs.length ? [ups, downs] : [downs, ups];
  // whom the change leaves short gets more of her own
  const apart = [...others, ...mates];
  if (group.length < 2) return [null, open];
  for (const rung of shared_rungs(from, unit, of, group[0]!)) {
    const enough = (n: number) => {
      const ahead = ahead_of(from, unit, rung.lines(n));
      return group.every(({ id, goal, until_d }) => reaches(ahead, id, goal, until_d));
    };
    if (rung.most < 1 || !enough(rung.most)) continue;
    const first = yield* fewest(rung.most, enough);
    for (let n = first; n < first + ACT_TRIED && n <= rung.most; n++) {
      const lines = rung.lines(n);
      const verdict = yield* all_of(group, lines, apart.map(({ id }) => id));
      if (verdict === "out") break;
      if (verdict === "still") continue;
      return [{ code: rung.code, lines }, apart];
    }
  }
  return [null, open];
}

/** Each of them looks at herself, the first at whoever stands beside them. */
function* all_of(group: Trial[], lines: ActLine[], apart: string[]): Generator<void, Verdict> {
  let worst: Verdict = "good";
  const seen_to = [...apart, ...group.map(({ id }) => id)];
  for (const trial of group) {
    const mates = trial === group[0] ? [] : trial.mates;
    const verdict = yield* trial.try(lines, [...seen_to, ...mates]);
    if (verdict === "out" || verdict === "still") return verdict;
    if (verdict === "slow") worst = verdict;
  }
  return worst;
}

function shared_rungs(from: Context, unit: string, of: Nutrient, { id, goal }: Trial): Rung[] {
  const barn = barn_of(from, unit, id, of);
  if (!barn) return [];
  const own = rungs(barn, goal).filter(({ to }) => to === "pen");
  return goal.way === "up" ? [...own, ...richer(barn)] : own;
}

/** Better hay or legume in the feeder, beside what is given or in its place. */
function richer(barn: Barn): Rung[] {
  const { ctx, unit } = barn;
  const mates = ctx.pen_mates(unit, ctx.day);
  const eaten = (feed: string) => mates.every((mate) => !leaves(ctx, mate, feed));
  const [main] = hay_of(barn, unit);
  if (!main) return [];
  const hays = of_class(barn, "mixed", "grass").filter((feed) => worth(barn, feed) > worth(barn, main[0]));
  const legumes = of_class(barn, "legume");
  const each = (code: "better_hay" | "legume_up") => (feed: string) =>
    hungry(barn, unit) ? more_hay(barn, code, unit, feed, main[1]) : less_hay(barn, code, unit, main, feed);
  return [
    ...best(barn, hays.filter(eaten)).flatMap(each("better_hay")),
    ...best(barn, legumes.filter(eaten)).flatMap(each("legume_up")),
  ];
}

/** Her own act on top of what is planned for the feeder so far. */
function* beside(
  from: Context, unit: string, lines: ActLine[], { id, goal, holds_d }: Trial, apart: string[] = [],
): Generator<void, ActLine[]> {
  const { planned } = ahead_of(from, unit, lines);
  const trial = new Trial(planned, unit, id, goal, holds_d, apart);
  if ((yield* healed(trial)) !== null) return lines;
  const barn = barn_of(planned, unit, id, goal.of);
  const [act] = barn ? yield* climb(trial, rungs(barn, goal).filter(({ to }) => to === "doe"), 1) : [];
  if (!act) return lines;
  const both = merged(lines, act.lines);
  // one after the other they come to the same as together
  if (both.length === lines.length + act.lines.length) known_as(from, unit, both, ahead_of(planned, unit, act.lines));
  return both;
}

/**
 * Nothing in the feeder suits all: each who wants more gets it of her own, and as much less goes into the feeder as
 * she leaves there; once more, for what she then lacks.
 */
function* own_bowls(from: Context, unit: string, open: Trial[]): Generator<void, Act | null> {
  const ups = open.filter(({ goal }) => goal.way === "up");
  let lines: ActLine[] = [];
  for (let round = 0; round < ACT_ROUNDS; round++) {
    for (const trial of ups) lines = yield* beside(from, unit, lines, trial, trial.mates);
    const own = lines.filter(({ to }) => to === "doe");
    const given = ups.filter(({ id }) => own.some(({ subject }) => subject === id));
    const [first] = given;
    if (!first) return null;
    for (lines of [own, ...(yield* balanced(first, own, given.map(({ id }) => id)))]) {
      const act = yield* whole(unit, lines, given, null);
      if (act?.each?.length === given.length) return act;
    }
  }
  return null;
}

/** What comes down in the feeder waits until those who get more of their own have it. */
function feeder_last(lines: ActLine[]): ActLine[] {
  const own = lines.filter(({ to }) => to === "doe").flatMap(({ steps }) => steps.map(([on]) => on)).sort();
  const last = own.at(-1);
  return lines.map((line): ActLine => {
    const [[first]] = line.steps as [Step];
    const wait = line.to === "pen" && last && line.steps.at(-1)![1] < line.from_g ? days_between(first, last) : 0;
    return { ...line, steps: line.steps.map(([on, g]): Step => [shift(on, wait), g]) };
  });
}

/** The whole of it tried on everybody once more: it says what it brings each, and nobody is worse off. */
function* whole(
  unit: string, lines: ActLine[], open: Trial[], shared: Pick<Act, "code" | "lines"> | null,
): Generator<void, Act | null> {
  const each: NonNullable<Act["each"]> = [];
  let slow = false;
  for (const trial of open) {
    const verdict = yield* trial.try(lines);
    if (verdict === "out") return null;
    slow ||= verdict === "slow";
    const brings = brings_of(trial, lines);
    // what her mates' bowls leave to her is no answer to her own word
    const moved = trial.goal.way === "up" ? brings.to_pm > brings.from_pm : brings.to_pm < brings.from_pm;
    if (verdict !== "still" && moved) each.push({ doe: trial.id, brings });
  }
  if (!each.length) return null;
  const code = shared && shared.lines === lines ? shared.code : "pen_plan";
  return { code, to: "pen", subject: unit, lines, brings: each[0]!.brings, slow, ends_on: ends_on(open, lines), each };
}
