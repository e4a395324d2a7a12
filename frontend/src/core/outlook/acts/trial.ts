import { div } from "../../base/ints.ts";
import { window } from "../balance/balance.ts";
import { standing } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import type { DoeResult } from "../ground/shapes.ts";
import {
  ACT_AIM_PM, ACT_BACK_D, ACT_HER_LOOK_D, ACT_HOLDS_D, ACT_MATES_LOOK_D, ACT_TELLS_PM, AHEAD_D, WEEK_D,
} from "../../tables/numbers.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { at_floor, reaches } from "./aims.ts";
import { ahead_of, NOTHING, ratio, shared_out, type Ahead } from "./forward.ts";
import type { Goal } from "../verdict/goals.ts";
import { heard, LACKS, of_sums, was_said, weeks_beside, type Heard } from "./hearing.ts";
import { at_once, eats_as_before, warned } from "./beside.ts";
import { kept_d, until_d } from "./horizon.ts";
import { cuts_late } from "./late_cut.ts";
import { first_past, slimming_kj } from "./limits.ts";
import type { ActLine } from "./shapes.ts";
import { no_less, robbed } from "./worse_off.ts";

/**
 * "slow": she is back once its steps are in, and not within the week; "still": she is not back, so that more of it may
 * do; "out": it puts her or somebody else out.
 */
export type Verdict = "good" | "slow" | "still" | "out";

/**
 * One doe's act tried on everybody at her feeder, along the days to come, by the code that speaks of them. What would
 * be said if the plan stayed is worked once.
 */
export class Trial {
  readonly from: Context;
  readonly unit: string;
  readonly id: string;
  readonly goal: Goal;
  readonly base: Ahead;
  readonly holds_d: number;
  readonly apart: string[];
  readonly until_d: number;
  /** What the last one failed by, for whoever looks into it, and whether it was a mate's lot. */
  why = "";
  by_mate = false;
  /** She came to lack something else by it, which more of it may bring. */
  lacks = false;

  #partly = false;
  readonly #hers_of = new WeakMap<ActLine[], [found: Verdict, lacks: boolean]>();

  /** `holds_d`: how long what it brings has to last; `apart`: who is seen to by herself afterwards. */
  constructor(from: Context, unit: string, id: string, goal: Goal, holds_d = ACT_HOLDS_D, apart: string[] = []) {
    [this.from, this.unit, this.id, this.goal, this.holds_d, this.apart] = [from, unit, id, goal, holds_d, apart];
    this.until_d = until_d(from, id, holds_d);
    this.base = ahead_of(from, unit, NOTHING);
  }

  /** Days from now on which the plan as it is has brought her back for good; null where it does not. */
  *healed(): Generator<void, number | null> {
    if (this.#from_now) return null;
    yield* shared_out(this.base.planned, this.unit, 1, this.until_d + 1);
    if (this.goal.way === "up" && !reaches(this.base, this.id, this.goal, this.until_d)) return null;
    let since: number | null = null;
    // the last first: where it is still said then, nothing before it matters
    for (const days of this.#looks().reverse()) {
      if (!this.#is_back(days)) break;
      since = days;
      yield;
    }
    return since !== null && since <= this.last_look() ? since : null;
  }

  /** Silence is no sign of it where the sums stay under: nobody may have scored her, or she eats all she can. */
  #is_back(days: number): boolean {
    const { id, base, goal } = this;
    const { result, codes } = this.#as_planned(id, days);
    if (result.standing === "ok" && goal.gone.some((code) => codes.has(code))) return false;
    return days !== this.last_look() || (this.#right(base, result) && !this.thin_under_need);
  }

  /** At her floor a thin doe loses flesh all the same, so that she is not fed for it. */
  get thin_under_need(): boolean {
    const { goal: { by_score, way, of }, base, from } = this;
    return by_score && way === "up" && of === "me" && this.pm(base, shift(from.day, this.last_look())) < ACT_AIM_PM.up;
  }

  /** What is to be kept from happening has to be gone at once: once it has happened nobody says it any more. */
  get #from_now(): boolean {
    return ["steps", "cut"].includes(this.goal.way);
  }

  /** Whoever eats beside her. */
  get mates(): string[] {
    const { from, unit, id } = this;
    return from.pen_mates(unit, from.day).filter((mate) => mate !== id && from.here(mate));
  }

  #looks(): number[] {
    return ACT_HER_LOOK_D.filter((days) => days <= this.until_d);
  }

  /** The second week first: most that fail fail there. */
  #in_turn(): number[] {
    return this.#looks().sort((a, b) => Number(b === AHEAD_D) - Number(a === AHEAD_D));
  }

  /** From when on her sums hold nothing of the days before, and all of the steps. */
  last_look(then = this.base): number {
    const first = Math.max(AHEAD_D, then.last_d) + (this.goal.slowly ? WEEK_D : 0);
    return this.#looks().find((days) => days >= first) ?? Math.min(AHEAD_D, this.until_d);
  }

  /** A breath after each doe and evening. `partly`: what does not bring her back has to leave nobody worse off. */
  *try(lines: ActLine[], apart = this.apart, partly = false): Generator<void, Verdict> {
    const found = yield* this.for_her(lines, partly);
    if (found === "out" || (found === "still" && !partly)) return found;
    this.by_mate = yield* this.mates_out(ahead_of(this.from, this.unit, lines), apart);
    return this.by_mate ? "out" : found;
  }

  /** The same of herself alone, whatever becomes of whoever stands beside her. */
  *for_her(lines: ActLine[], partly = false): Generator<void, Verdict> {
    this.by_mate = false;
    let known = partly ? undefined : this.#hers_of.get(lines);
    if (!known) {
      const verdict = yield* this.#for_her(lines, partly);
      known = [verdict, this.lacks];
      if (!partly) this.#hers_of.set(lines, known);
    }
    this.lacks = known[1];
    return known[0];
  }

  /** Whether that is "still": nothing before its last step is in can make it so, and most often nothing after. */
  *too_little(lines: ActLine[]): Generator<void, boolean> {
    const then = ahead_of(this.from, this.unit, lines);
    yield* shared_out(then.planned, this.unit, 1, this.until_d + 1);
    for (const days of this.#in_turn().filter((each) => each >= this.last_look(then))) {
      yield* weeks_beside(then.on(days), this.id, this.mates);
      const verdict = this.#hers(then, days);
      yield;
      if (verdict === "out") return false;
      if (verdict === "still") return (yield* this.for_her(lines)) === "still";
    }
    return false;
  }

  *#for_her(lines: ActLine[], partly: boolean): Generator<void, Verdict> {
    const { from, unit, id } = this;
    const then = ahead_of(from, unit, lines);
    let found: Verdict = "good";
    yield* shared_out(then.planned, unit, 1, this.until_d + 1);
    [this.lacks, this.#partly] = [false, partly];
    for (const days of this.#in_turn()) {
      yield* weeks_beside(then.on(days), id, this.mates);
      const verdict = this.#hers(then, days);
      if (verdict === "out" || (verdict === "still" && !partly)) return verdict;
      if (found !== "still" && verdict !== "good") found = verdict;
      yield;
    }
    this.why = this.#past(then) || this.#too_much(then);
    yield;
    this.why ||= yield* at_once(this.from, [this.base, then], [this.id, ...this.mates]);
    this.why ||= yield* warned(this.from, then, lines, this.goal);
    return this.why ? "out" : found;
  }

  #hers(then: Ahead, days: number): Verdict {
    const { id, goal } = this;
    const { result, codes } = heard(then.on(days), id);
    if (result.standing !== "ok") return "good";
    this.why = `${days} ${[...codes].join()}`;
    const said = goal.gone.some((code) => codes.has(code));
    const worse = this.#worse(then, codes, id, days);
    this.lacks = worse.some((code) => LACKS.includes(code));
    if (worse.length) return "out";
    // a week that is not over when she kids holds the days before
    const last = this.last_look(then);
    const known = last > ACT_BACK_D && !this.#kids_first(then, last);
    if (this.#from_now ? said : known && days >= last && said) return "still";
    if (known && days === last && !this.#right(then, result)) return "still";
    return said && days >= ACT_BACK_D ? "slow" : "good";
  }

  /** She is due before a week's sums would show what its steps bring; of energy she is to have it by then. */
  #kids_first({ last_d }: Ahead, last: number): boolean {
    return this.goal.of !== "me" && this.until_d < AHEAD_D && last_d + ACT_BACK_D > last;
  }

  /** Silence alone is not enough: nobody may have looked. Where a score speaks, the sums have to be right. */
  #right(then: Ahead, { lines, standing, gest }: DoeResult): boolean {
    const { goal, from } = this;
    const line = lines[goal.of];
    if (!line || standing !== "ok" || !["up", "down"].includes(goal.way)) return true;
    const on = shift(from.day, this.last_look(then));
    // late she is right at the floor she can eat to; below it she may only have nobody to speak for her
    const late = gest >= from.rule("late_day");
    if (goal.way === "up" && goal.of === "me" && late) return at_floor(then.planned, this.id, on);
    const pm = this.pm(then, on);
    // a week of minerals may hold the last of the steps: there the plan's own day is what counts
    const short = line.st === "short" && (goal.of === "me" || !reaches(then, this.id, goal, AHEAD_D));
    const was = this.pm(this.base, on) - (goal.slowly ? div(ACT_TELLS_PM, 2) : 0);
    if (!goal.by_score) return goal.way === "down" ? pm < was : !short;
    return goal.way === "up" ? pm >= ACT_AIM_PM.up : pm < Math.min(was, ACT_AIM_PM.under);
  }

  #worse(then: Ahead, codes: Set<PromptCode>, id: string, days: number): PromptCode[] {
    const had = (code: PromptCode) => !this.goal.gone.includes(code) && no_less(this.base, then, [code, id], days);
    const anew = [...codes].filter((code) => of_sums(code) && !had(code));
    // what would be said anyway is worked only where there is something to hold against it
    if (!anew.length) return [];
    const { codes: before, result } = this.#as_planned(id, days);
    const ours = id === this.id ? this.#ours(result.gest) : [];
    // energy she lacks does not wait for calcium that is to be short anyway
    if (ours.includes("energy_short") && before.has("calcium_heading_short")) ours.push("calcium_short");
    return anew.filter((code) => !ours.includes(code) && !was_said(before, code));
  }

  /** What stands no act in the way: its own cause, and late, where she is short, calcium to spare. */
  #ours(gest: number): string[] {
    const { way, gone, of } = this.goal;
    if (way !== "up") return [...gone];
    const late = of === "me" && gest >= this.from.rule("late_day");
    // she was scored before the act: that she thinned then says nothing of what it brings
    const before = [...gone, "thin_though_fed", "condition_ahead_low"];
    // what goes part of the way leaves her calcium for an act of its own
    if (this.#partly && of === "me") before.push("calcium_heading_short");
    return late ? [...before, "calcium_over", "calcium_heading_over"] : before;
  }

  #as_planned(id: string, days: number): Heard {
    return heard(this.base.on(days), id);
  }

  *mates_out(then: Ahead, apart: string[]): Generator<void, boolean> {
    const mates = this.mates.filter((id) => !apart.includes(id) && !eats_as_before(this.base, then, id));
    for (const days of ACT_MATES_LOOK_D) {
      for (const id of mates) {
        const { codes } = heard(then.on(days), id);
        this.why = `${days} ${id} ${[...codes].join()}`;
        if (this.#worse(then, codes, id, days).length || robbed(this.base, then, id, days)) return true;
        yield;
      }
    }
    return false;
  }

  /** More than she needs is no answer to too little, whether or not anybody would say so. */
  #too_much(then: Ahead): string {
    const { goal, from } = this;
    const on = shift(from.day, this.last_look(then));
    const most = 1000 + from.rule("level_pm");
    const past = goal.way === "up" && goal.of === "me" && this.pm(then, on) > Math.max(most, this.pm(this.base, on));
    return past ? "over need" : "";
  }

  /** What would rather be weighed finer. */
  past_need(lines: ActLine[]): boolean {
    const { way, of } = this.goal;
    const then = ahead_of(this.from, this.unit, lines);
    return way === "up" && of === "me" && this.pm(then, shift(this.from.day, this.last_look(then))) > 1000;
  }

  /** By the plan's sums alone, on the days that are looked at. */
  keeps(lines: ActLine[]): boolean {
    const then = ahead_of(this.from, this.unit, lines);
    // a limit holds on the day she is dried off as on the day before
    const kept = kept_d(this.from, this.id);
    const looks: number[] = [...ACT_HER_LOOK_D.filter((days) => days < kept), kept];
    return !first_past(this.base.planned, then.planned, this.id, looks.map((days) => Math.max(1, days)));
  }

  /** "" where all limits are kept. */
  #past(then: Ahead): string {
    const { id, goal, base, from } = this;
    const days = Array.from({ length: kept_d(from, id) }, (_, k) => k + 1);
    const cut = first_past(base.planned, then.planned, id, days) || this.#cut_late(then);
    if (cut || goal.way !== "down") return cut;
    const week = window(then.on(this.last_look()), id, WEEK_D);
    return week.need.me - week.got.me > slimming_kj(from, id) * week.days ? "slimming" : "";
  }

  /** Late nobody who eats there is given less by it, whatever it is for. */
  #cut_late(then: Ahead): string {
    const cut = (id: string) => standing(this.from, id) === "ok" && cuts_late(then.planned, this.base.planned, id);
    return [this.id, ...this.mates].some(cut) ? "late cut" : "";
  }

  /** From one day on, that day; or where the plan as it is falls far behind later on, the day of its worst. */
  worst_on(first: string): string {
    const days = Math.max(days_between(this.from.day, first), this.last_look()) - days_between(this.from.day, first);
    const off = (on: string) => (this.goal.way === "down" ? -1 : 1) * this.pm(this.base, on);
    const ahead = Array.from({ length: days + 1 }, (_, k) => shift(first, k));
    const worst = ahead.reduce((found, on) => (off(on) < off(found) ? on : found), first);
    return off(first) - off(worst) > ACT_TELLS_PM ? worst : first;
  }

  /** Permille of need on a day of the plan. */
  pm(ahead: Ahead, on: string): number {
    return ratio(ahead, this.id, this.goal.of, on);
  }
}
