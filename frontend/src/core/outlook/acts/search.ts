import { at_once } from "../../base/at_once.ts";
import { div } from "../../base/ints.ts";
import { day_sums, permille } from "../balance.ts";
import { Context, shift } from "../context.ts";
import { floor_on } from "../energy.ts";
import { all } from "../prompts.ts";
import type { DoeResult } from "../shapes.ts";
import { judge, unit_of } from "../units.ts";
import { ACT_AIM_LOOK_D, ACT_AIM_PM, ACT_OFFERED } from "../../tables/numbers.ts";
import { FIRST_OF_SUMS, RANKS, type PromptCode } from "../../tables/prompts.ts";
import { Ahead } from "./forward.ts";
import { GOALS, type Goal } from "./goals.ts";
import { barn_of, up, type Barn, type Rung } from "./ladder.ts";
import { NO_ACTS, type Act, type ActLine, type Acts } from "./shapes.ts";
import { Trial } from "./trial.ts";

/** What can be done about a doe's feed prompt, at once. */
export function acts(ctx: Context, id: string): Acts {
  return at_once(acts_in_steps(ctx, id));
}

/** The same with breaths between, so that a tap comes through. */
export function* acts_in_steps(ctx: Context, id: string): Generator<void, Acts> {
  const from = new Context(ctx.view, ctx.outlooks, ctx.book, ctx.day, ctx);
  const unit = unit_of(from, id);
  const { does } = yield* judge(from, unit);
  const asked = does[id] && asks(from, id, does[id]);
  if (!asked || under_question(from, [unit, id])) return NO_ACTS;
  const [code, goal] = asked;
  const barn = barn_of(from, unit, id, goal.of);
  if (!barn) return { ...NO_ACTS, for: code, of: goal.of };
  const trial = new Trial(from, unit, id, goal);
  const found: Acts = { ...NO_ACTS, for: code, of: goal.of };
  const healed = yield* trial.healed();
  if (healed !== null) return { ...found, by_plan: shift(ctx.day, healed) };
  return { ...found, offered: yield* climb(trial, barn) };
}

/** The foremost word an act may answer; none while something that cannot wait is said, or nothing may be fed. */
function asks(ctx: Context, id: string, result: DoeResult): [PromptCode, Goal] | null {
  if (result.standing !== "ok" || result.down || (result.prompt && RANKS[result.prompt.code] < FIRST_OF_SUMS)) return null;
  const codes = all(ctx, id, result).flatMap((said) => said?.code ?? []);
  const code = codes.sort((a, b) => RANKS[a] - RANKS[b]).find((each) => GOALS[each]);
  return code ? [code, GOALS[code]!] : null;
}

/** Two people set the plan differently: that is settled first. */
function under_question(ctx: Context, subjects: string[]): boolean {
  return [...ctx.asked.keys()].some((key) => subjects.some((subject) => key.startsWith(`${subject}|`)));
}

function* climb(trial: Trial, barn: Barn): Generator<void, Act[]> {
  const offered: Act[] = [];
  for (const rung of up(barn)) {
    if (offered.length >= ACT_OFFERED) break;
    if (offered.some(({ code }) => code === rung.code)) continue;
    const lines = yield* least(trial, rung);
    if (lines) offered.push(told(trial, rung, lines));
  }
  return offered;
}

/** The smallest amount of a rung that the evaluator finds does it. */
function* least(trial: Trial, rung: Rung): Generator<void, ActLine[] | null> {
  let n = yield* reaching(trial, rung);
  for (let more = 0; n > 0 && n <= rung.most && more < MOST_TRIED; more++, n++) {
    const lines = rung.lines(n);
    const verdict = yield* trial.try(lines);
    if (verdict === "good") return lines;
    if (verdict === "out") return null;
  }
  return null;
}

const MOST_TRIED = 3;

/** By the plan's sums alone, which are cheap: the fewest parts that reach what is aimed at; 0 where none do. */
function* reaching(trial: Trial, { lines, most }: Rung): Generator<void, number> {
  if (!reaches(trial, new Ahead(trial.from, trial.unit, lines(most)))) return 0;
  let [short, enough] = [0, most];
  while (enough - short > 1) {
    yield;
    const middle = div(short + enough, 2);
    if (reaches(trial, new Ahead(trial.from, trial.unit, lines(middle)))) enough = middle;
    else short = middle;
  }
  return enough;
}

function reaches(trial: Trial, ahead: Ahead): boolean {
  const { id, goal, from } = trial;
  const looks = new Set(ACT_AIM_LOOK_D.map((days) => Math.min(days, trial.until_d)));
  return [...looks].every((days) => {
    const on = shift(from.day, days);
    const sums = day_sums(ahead.planned, id, on, true);
    if (sums === null) return true;
    const pm = permille(sums.got[goal.of], sums.need[goal.of]);
    const floor = goal.of === "me" ? floor_on(ahead.planned, id, on) : 0;
    return floor ? sums.got.me * 1000 >= floor * ACT_AIM_PM.late : pm >= (goal.by_score ? 1000 : ACT_AIM_PM.up);
  });
}

function told(trial: Trial, { code, to, subject }: Rung, lines: ActLine[]): Act {
  const { of } = trial.goal;
  const ahead = new Ahead(trial.from, trial.unit, lines);
  const by_on = trial.worst_on(lines.flatMap(({ steps }) => steps.map(([on]) => on)).sort().at(-1)!);
  const brings = { of, from_pm: trial.pm(trial.base, by_on), to_pm: trial.pm(ahead, by_on), by_on };
  return { code, to, subject, lines, brings, ends_on: "" };
}
