import { old_since } from "./measures.ts";
import { compareText } from "../../events/order.ts";
import { pen_on } from "../../state/where.ts";
import { amount_on, place_key } from "../../state/planned.ts";
import type { Line, Ration, Step } from "../../state/view.ts";
import { Context, days_between, once, push, shift, SLOTS } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { held_amount, waited_d } from "../ground/freeze.ts";
import { by_day_of, put_off_d } from "./by_day.ts";
import type { FeedLine } from "../ground/shapes.ts";
import { LAST_FED_D } from "../../tables/numbers.ts";

/** The adopted plan: what each pen and doe is to get in a slot on a date. */
export type NextStep = [on: string, feed: string, now: number, then: number];

/** Shared lines first, then each doe's own. */
export function plan_lines(ctx: Context, pen: string, on: string, slot: string): Line[] {
  const lines = subject_lines(ctx, pen, on, slot).map(([feed, g]): Line => ["", feed, g]);
  if (Object.hasOwn(ctx.view.does, pen)) return lines;
  for (const id of ctx.pen_mates(pen, on)) {
    for (const [feed, g] of subject_lines(ctx, id, on, slot)) lines.push([id, feed, g]);
  }
  return lines;
}

/** Planned for one doe or one pen. An amount under question stays at what was last fed. */
export function subject_lines(ctx: Context, subject: string, on: string, slot: string): FeedLine[] {
  return lines_of(ctx, subject, on).get(slot) ?? [];
}

/** By slot. */
export function lines_of(ctx: Context, subject: string, on: string): Map<string, FeedLine[]> {
  return ctx.memo.lines.once(subject, on, () => find_lines(ctx, subject, on));
}

function find_lines(ctx: Context, subject: string, on: string): Map<string, FeedLine[]> {
  const found = new Map<string, FeedLine[]>();
  for (const ration of ctx.plans.get(subject) ?? []) {
    const g = amount(ctx, ration, on);
    if (g > 0) push(found, ration.slot, [ration.feed, g]);
  }
  return found;
}

/** From today on an amount under question is what was last fed, or the smaller of the two. */
function amount(ctx: Context, ration: Ration, on: string): number {
  const { subject, slot, feed } = ration;
  const sides = ctx.asked.get(place_key(subject, slot, feed));
  if (sides === undefined || on < ctx.day) return by_steps(ctx, ration, on);
  const g = last_fed(ctx, subject, slot, feed) || Math.min(...sides.map((side) => amount_on(side, on)));
  return held(ctx, ration, on, g);
}

function by_steps(ctx: Context, ration: Ration, on: string): number {
  const g = by_day_of(ctx, ration)(on);
  return held(ctx, ration, on, on >= ctx.day && ctx.waits ? as_weighed(ctx, ration, g) : g);
}

const held = (ctx: Context, ration: Ration, on: string, g: number): number =>
  held_amount(ctx, ration, on, g, by_day_of(ctx, ration));

/** Whatever waits for a weight. */
const once_weighed = (ctx: Context, ration: Ration, on: string): number =>
  held(ctx, ration, on, by_day_of(ctx, ration)(on));

/** No more than before its last weight went old. What starts from nothing starts: only going up waits. */
function as_weighed(ctx: Context, { feed, steps }: Ration, g: number): number {
  const since = is_old_since(ctx, feed);
  if (!since || !g) return g;
  const before = amount_on(steps, shift(since, -1));
  return Math.min(g, before || (steps.find(([on, amount]) => on >= since && amount)?.[1] ?? g));
}

function is_old_since(ctx: Context, feed: string): string {
  return once(ctx.memo.old_since, feed, () =>
    old_since(ctx.view, feed, ctx.day, ctx.rule_or_ours("weigh_again_d")),
  );
}

const weighed = new WeakMap<Context, Context>();

/** The plan as it is once every container is weighed: what waits for that today is given on the day it is. */
export function as_if_weighed(ctx: Context): Context {
  if (!ctx.waits || !Object.values(ctx.view.rations).some(({ feed }) => is_old_since(ctx, feed))) return ctx;
  const found = weighed.get(ctx) ?? new Context(ctx.view, ctx.outlooks, ctx.book, ctx.day, ctx);
  found.waits = false;
  weighed.set(ctx, found);
  return found;
}

/** Grams as fed of grain planned for her alone on a date. */
export function grain_planned(ctx: Context, id: string, on: string): number {
  const lines = SLOTS.flatMap((slot) => subject_lines(ctx, id, on, slot));
  return lines.reduce((total, [feed, g]) => total + (is_grain(ctx.feed(feed)) ? g : 0), 0);
}

function last_fed(ctx: Context, subject: string, slot: string, feed: string): number {
  for (let back = 0; back < LAST_FED_D; back++) {
    const feedings = ctx.feedings.get(shift(ctx.day, -back)) ?? [];
    for (const feeding of [...feedings].reverse()) {
      const line = feeding.lines.find(([to, what]) => what === feed && (to || feeding.subject) === subject);
      if (line && feeding.slot === slot) return line[2];
    }
  }
  return 0;
}

/** Whether any ration line reaches her, her own or her pen's. */
export function has_plan(ctx: Context, id: string, on: string): boolean {
  return planned_slots(ctx, id, on).length > 0;
}

export function planned_slots(ctx: Context, id: string, on: string): string[] {
  const pen = pen_on(ctx.doe(id), on);
  return SLOTS.filter((slot) => [id, pen].some((who) => who && subject_lines(ctx, who, on, slot).length > 0));
}

/** The first of her own raises that waits for a weight: from when, what it stays at and what is wanted; or null. */
export function raise_waiting(ctx: Context, id: string, within_d: number): NextStep | null {
  let first: NextStep | null = null;
  for (const ration of ctx.plans.get(id) ?? []) {
    for (const [start] of ration.steps) {
      const on = start < ctx.day ? ctx.day : start;
      if (days_between(ctx.day, on) > within_d) continue;
      const step: NextStep = [on, ration.feed, by_steps(ctx, ration, on), once_weighed(ctx, ration, on)];
      if (step[2] < step[3] && (first === null || compare_steps(step, first) < 0)) first = step;
    }
  }
  return first;
}

/** The next change in her own lines, or null. */
export function next_step(ctx: Context, id: string, within_d: number): NextStep | null {
  let first: NextStep | null = null;
  for (const ration of ctx.plans.get(id) ?? []) {
    for (const on of changing_on(ctx, ration)) {
      if (!(ctx.day < on && days_between(ctx.day, on) <= within_d)) continue;
      const step: NextStep = [on, ration.feed, by_steps(ctx, ration, shift(on, -1)), by_steps(ctx, ration, on)];
      if (step[2] === step[3]) continue;
      if (first === null || compare_steps(step, first) < 0) first = step;
    }
  }
  return first;
}

/** Days on which what is planned may change: its steps, the end of a freeze, and steps that something has put off. */
function changing_on(ctx: Context, ration: Ration): string[] {
  const frozen = Object.hasOwn(ctx.view.does, ration.subject) ? ctx.doe(ration.subject).freeze : null;
  const starts = ration.steps.map(([start]) => start);
  const thaws = frozen?.until ? [shift(frozen.until, 1)] : [];
  const [by_weight, frozen_d] = [put_off_d(ctx, ration), thaws[0] ? waited_d(ctx, ration, thaws[0]) : 0];
  const offs = by_weight.flatMap((days) => [days, days + frozen_d]);
  return [...new Set([...starts, ...offs.flatMap((days) => starts.map((start) => shift(start, days))), ...thaws])];
}

/** What is to be given from each coming day on which that changes, whatever waits for a weight. */
export function changes_ahead(ctx: Context, ration: Ration): Step[] {
  const on_day = (on: string) => once_weighed(ctx, ration, on);
  const days = [...new Set(changing_on(ctx, ration))].filter((on) => on > ctx.day).sort();
  return days.filter((on) => on_day(on) !== on_day(shift(on, -1))).map((on): Step => [on, on_day(on)]);
}

function compare_steps(a: NextStep, b: NextStep): number {
  return compareText(a[0], b[0]) || compareText(a[1], b[1]) || a[2] - b[2] || a[3] - b[3];
}
