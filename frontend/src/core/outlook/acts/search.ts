import { at_once } from "../../base/at_once.ts";
import { Resumable } from "../../base/resumable.ts";
import { late_on } from "../balance/balance.ts";
import { Context, once_in, type Kept } from "../ground/context.ts";
import { ACT_OFFERED, AHEAD_D, WEEK_D } from "../../tables/numbers.ts";
import { judge, unit_of, units_of, type Unit } from "../whole/units.ts";
import { asks, rungs, under_question, type Asked } from "./asking.ts";
import { barn_of, type Barn } from "./barn.ts";
import { answered_on, fed_right, healed } from "./by_plan.ts";
import { moved } from "./apart.ts";
import { climb, furthest } from "./climb.ts";
import { lacking } from "./lacking.ts";
import { shared_out } from "./forward.ts";
import { feeder_group, feeder_plan, type Group } from "./feeder.ts";
import { GOALS } from "../verdict/goals.ts";
import type { Rung } from "./rungs.ts";
import { presumed_of, written_whole } from "./presumed.ts";
import { give_back } from "./give_back.ts";
import { NO_ACTS, type Act, type Acts } from "./shapes.ts";
import { Trial } from "./trial.ts";

/** What can be done about the feed prompt of a doe or a pen, at once. */
export function acts(ctx: Context, subject: string): Acts {
  return at_once(acts_in_steps(ctx, subject));
}

/** The same with breaths between, so that a tap comes through. */
export function* acts_in_steps(ctx: Context, subject: string): Generator<void, Acts> {
  const from = own_of(ctx);
  const unit = Object.hasOwn(ctx.view.does, subject) ? unit_of(from, subject) : subject;
  if (!units_of(from).includes(unit) || under_question(from, [unit, subject])) return NO_ACTS;
  const presumed = presumed_of(from, unit);
  const found = yield* found_for(ctx, from, presumed.ctx, [unit, subject]);
  const whole = (act: Act) => written_whole(presumed, act);
  const none = found.none && { ...found.none, helps: found.none.helps && whole(found.none.helps) };
  return { ...found, offered: found.offered.map(whole), none };
}

const OWN = new WeakMap<Context, Context>();

/** So that no look-up of the farm as it is learns of what is only tried; one for all who are asked about. */
function own_of(ctx: Context): Context {
  const own = OWN.get(ctx) ?? new Context(ctx.view, ctx.outlooks, ctx.book, ctx.day, ctx);
  OWN.set(ctx, own);
  return own;
}

/** `from`: the farm as it is, of which is spoken; `going_on`: with a plan, on which is tried. */
function* found_for(
  ctx: Context, from: Context, going_on: Context, [unit, subject]: [string, string],
): Generator<void, Acts> {
  const is_doe = Object.hasOwn(ctx.view.does, subject);
  yield* shared_out(going_on, unit, -2 * WEEK_D, AHEAD_D);
  const judged = yield* once_in(JUDGED, ctx, unit, () => new Resumable(judge(from, unit))).steps();
  const group = yield* once_in(GROUPED, ctx, unit, () => new Resumable(feeder_group(from, unit, judged))).steps();
  const concerned = group && (!is_doe || group.does.some(({ id }) => id === subject));
  // once for a feeder, whoever's page asks first
  const decided = () => once_in(DECIDED, ctx, unit, () => new Resumable(feeder_plan(going_on, unit, group!)));
  const for_all = concerned ? yield* decided().steps() : NO_ACTS;
  if (!is_doe) return for_all;
  const hers = for_all.offered.filter(({ each }) => each?.some(({ doe }) => doe === subject));
  if (hers.length) return { ...for_all, for: group!.said(subject), offered: hers };
  const asked = judged.does[subject] && asks(from, subject, judged.does[subject]);
  // what goes into the feeder is decided for all who eat there
  const own = asked ? yield* back_first(going_on, unit, subject, asked, for_all.offered.length > 0) : NO_ACTS;
  return for_all.offered.length ? { ...own, offered: own.offered.filter(({ to }) => to === "doe") } : own;
}

const JUDGED: Kept<Resumable<Unit>> = new WeakMap();
const GROUPED: Kept<Resumable<Group | null>> = new WeakMap();
const DECIDED: Kept<Resumable<Acts>> = new WeakMap();

/** The one that does all of it for as long as it is wanted; then what does a part of that. */
function trials_of(trial: Trial, code: Asked[0]): [Trial, ...Trial[]] {
  const { from, unit, id, goal } = trial;
  // what lasts a fortnight, where nothing lasts as long as her need climbs
  const trials: [Trial, ...Trial[]] = [trial, new Trial(from, unit, id, goal, AHEAD_D)];
  const foremost = { ...goal, by_score: GOALS[code]!.by_score };
  // where her score speaks on: so much less, or more, that her feed itself is right
  if (goal.by_score && !foremost.by_score) trials.push(new Trial(from, unit, id, foremost));
  // need climbs faster than her feed can: what does for a fortnight, and is then said anew
  if (goal.way === "up" && goal.of === "ca") {
    const soon = { ...goal, gone: goal.gone.filter((each) => each !== "calcium_heading_short") };
    trials.push(new Trial(from, unit, id, soon, AHEAD_D), new Trial(from, unit, id, { ...soon, just: true }, AHEAD_D));
  }
  if (goal.way === "down" && goal.of === "me") trials.push(new Trial(from, unit, id, { ...foremost, slowly: true }));
  return trials;
}

/** What was cut late comes back before anything else is tried. */
function* back_first(
  from: Context, unit: string, id: string, asked: Asked, decided: boolean,
): Generator<void, Acts> {
  const found = yield* of_doe(from, unit, id, asked, decided);
  const back = found.by_plan ? [] : yield* give_back(from, unit, id, asked[1]);
  return back.length ? { ...found, none: null, offered: [...back, ...found.offered].slice(0, ACT_OFFERED) } : found;
}

/** `decided`: what goes into her feeder; then only what is hers is tried. */
function* of_doe(
  from: Context, unit: string, id: string, [code, asked]: Asked, decided: boolean,
): Generator<void, Acts> {
  const found: Acts = { ...NO_ACTS, for: code, of: asked.of };
  const barn = barn_of(from, unit, id, asked.of);
  if (!barn) return found;
  const as_asked = new Trial(from, unit, id, asked);
  const goal = as_asked.thin_under_need && late_on(from, id, from.day) ? { ...asked, whole: true } : asked;
  const trial = new Trial(from, unit, id, goal);
  const ladder = rungs(barn, goal);
  // late nothing comes down, so there is nothing to wait for either
  if (!ladder.length && goal.way === "down") return found;
  const days = yield* healed(trial);
  if (days !== null) return { ...found, ...answered_on([trial], days) };
  if (fed_right(trial)) return found;
  const hers = decided ? ladder.filter(({ to }) => to === "doe") : ladder;
  return yield* searched(found, trials_of(trial, code), barn, hers, decided);
}

function* searched(
  found: Acts, trials: [Trial, ...Trial[]], barn: Barn, ladder: Rung[], decided: boolean,
): Generator<void, Acts> {
  for (const trial of trials) {
    const offered = yield* climb(trial, ladder);
    if (offered.length) return { ...found, offered };
  }
  const [trial] = trials;
  const { goal } = trial;
  // what takes its time has to last; what cannot last is judged by the fortnight
  const least = trials.findLast(({ holds_d }) => holds_d > AHEAD_D || goal.of === "ca") ?? trial;
  const part = goal.way === "up" ? least : goal.way === "down" && goal.of === "me" ? trial : null;
  const far = part ? yield* furthest(part, ladder) : null;
  if (far?.does) return { ...found, offered: [far.act] };
  const offered = decided ? [] : yield* moved([...new Set([trial, trials.at(-1)!])], barn);
  if (offered.length) return { ...found, offered };
  const none = yield* lacking(trial, barn, (other) => rungs(other, goal));
  return { ...found, none: none && { ...none, helps: far?.act ?? null } };
}
