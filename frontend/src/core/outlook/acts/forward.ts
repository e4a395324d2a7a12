import { new_place } from "../../state/doe_state.ts";
import { pen_on } from "../../state/where.ts";
import type { Feeding, View } from "../../state/view.ts";
import { day_sums, permille, span_key } from "../balance/balance.ts";
import type { Nutrient } from "../ground/shapes.ts";
import { Context, days_between, once_in, shift, SLOTS, type Kept } from "../ground/context.ts";
import { AsPlanned, OfSome, type Memo } from "../ground/memo.ts";
import { plan_lines } from "../feeding/plan.ts";
import { share_day } from "../feeding/sharing.ts";
import { changed } from "../gates/change.ts";
import { ACT_HOLDS_D } from "../../tables/numbers.ts";
import { changes_of, type ActLine } from "./shapes.ts";

/**
 * The farm as it will be: some lines of the plan changed, every meal from today on given and eaten as planned, and the
 * day moved on. What is asked of it is asked of the evaluator as it stands.
 */
export class Ahead {
  /** Today, with the plan changed and nothing more eaten. */
  readonly planned: Context;
  /** Days from now until all of its steps are in. */
  readonly last_d: number;
  readonly #from: Context;
  readonly #unit: string;
  #tonight: Context | null = null;
  readonly #days = new Map<number, Context>();

  /** `from`: a context of its own, so that no look-up of the farm as it is learns of what is only tried. */
  constructor(from: Context, unit: string, lines: ActLine[]) {
    const rations = lines.length ? with_lines(from.view.rations, lines) : from.view.rations;
    this.planned = moved_on(from, { ...from.view, rations }, from.day);
    this.planned.memo.lines = new OfSome(from.memo.lines, lines.map(({ subject }) => subject));
    [this.#from, this.#unit] = [from, unit];
    this.last_d = Math.max(0, ...lines.flatMap(({ steps }) => steps.map(([on]) => days_between(from.day, on))));
  }

  /** Worked when somebody asks beyond the plan. */
  #fed(): Context {
    const [from, { memo, view }] = [this.#from, this.planned];
    const meals = meals_ahead(this.planned, this.#unit);
    const tonight = moved_on(this.planned, view, from.day);
    // sorted by day already but for these: a farm has thousands
    const feedings = new Map(tonight.feedings);
    for (const meal of meals) feedings.set(meal.on, [...(feedings.get(meal.on) ?? []), meal]);
    Object.assign(tonight, { view: { ...view, feedings: [...view.feedings, ...meals] }, feedings });
    const { lines, planned, planned_sums } = memo;
    const { eaten, sums, confirmed, spans } = from.memo;
    tonight.memo = {
      ...tonight.memo, lines, planned, planned_sums,
      spans: new AsPlanned(spans, tonight.memo.spans, span_key(from.day, 0)),
      confirmed: new AsPlanned(confirmed, tonight.memo.confirmed, from.day),
      eaten: new AsPlanned(eaten, planned, from.day), sums: new AsPlanned(sums, planned_sums, from.day),
    };
    return tonight;
  }

  /** So many days from now, that evening. */
  on(days: number): Context {
    const tonight = (this.#tonight ??= this.#fed());
    let then = this.#days.get(days);
    if (!then) {
      then = moved_on(tonight, tonight.view, shift(tonight.day, days));
      const { lines, planned, planned_sums, eaten, sums, confirmed, spans } = tonight.memo;
      // no date of asking moves these, since every day between is fed as planned
      then.memo = { ...then.memo, lines, planned, planned_sums, eaten, sums, confirmed, spans };
      this.#days.set(days, then);
    }
    return then;
  }
}

/** The plan as it is. */
export const NOTHING: ActLine[] = [];
const TRIED: Kept<WeakMap<ActLine[], Ahead>> = new WeakMap();
/** By what the lines say: one rung and the next, and one doe and the next, often come to the same. */
const SAME: Kept<Map<string, Ahead>> = new WeakMap();
const MOST_KEPT = 100;

/** The same lines tried on several does at a feeder are looked ahead at once. */
export function ahead_of(from: Context, unit: string, lines: ActLine[]): Ahead {
  return tried_of(from, unit).get(lines) ?? known_as(from, unit, lines, same_as(from, unit, lines));
}

function same_as(from: Context, unit: string, lines: ActLine[]): Ahead {
  const known = once_in(SAME, from, unit, () => new Map<string, Ahead>());
  const key = lines
    .map(({ subject, slot, feed, moves, steps }) => [subject, slot, feed, moves, ...steps].join("|"))
    .join("||");
  const ahead = known.get(key) ?? new Ahead(as_moved(from, lines), unit, lines);
  // the last asked for stays longest
  known.delete(key);
  known.set(key, ahead);
  if (known.size > MOST_KEPT) known.delete(known.keys().next().value!);
  return ahead;
}

const MOVED: Kept<Context> = new WeakMap();

/** The farm with her in another pen, where a line moves her there; one for all amounts. */
function as_moved(from: Context, lines: ActLine[]): Context {
  const line = lines.find(({ moves }) => moves);
  return line ? once_in(MOVED, from, `${line.moves}|${line.subject}`, () => moved(from, line)) : from;
}

function moved(from: Context, { moves: id, subject: pen, steps }: ActLine): Context {
  const { view, outlooks, book, day } = from;
  const doe = from.doe(id!);
  const moves: typeof doe.moves = [...doe.moves, [steps[0]![0], pen, ""]];
  const does = { ...view.does, [id!]: { ...doe, pen, moves } };
  const pens = { ...view.pens, [pen]: view.pens[pen] ?? new_place(pen) };
  const { lines, slot, milk, weighed, old_since, unweighed, scoop_g } = from.memo;
  const { scores, feeder, eaten, sums, confirmed, spans } = from.memo;
  const anew = <T>(memo: Memo<T>) => new OfSome(memo, [id!]);
  const [appetite, need_dry, need_sd] = [anew(from.memo.appetite), anew(from.memo.need_dry), anew(from.memo.need_sd)];
  // what was eaten so far was eaten where she stood
  return new Context({ ...view, does, pens }, outlooks, book, day, from, {
    lines, slot, milk, weighed, old_since, unweighed, scoop_g, scores, feeder, eaten, sums, confirmed, spans, appetite,
    need_dry, need_sd,
  });
}

/** What a farm comes to with some lines, worked before under another name; with them it is the plan as it is. */
export function known_as(from: Context, unit: string, lines: ActLine[], ahead: Ahead): Ahead {
  tried_of(from, unit).set(lines, ahead);
  tried_of(ahead.planned, unit).set(NOTHING, ahead);
  return ahead;
}

function tried_of(from: Context, unit: string): WeakMap<ActLine[], Ahead> {
  return once_in(TRIED, from, unit, () => new WeakMap<ActLine[], Ahead>());
}

/** Shares out a feeder's days one by one, so that no later question has to do all of them at once. */
export function* shared_out(ctx: Context, unit: string, first_d: number, last_d: number): Generator<void, void> {
  for (let k = first_d; k <= last_d; k++) {
    const on = shift(ctx.day, k);
    share_day(ctx, unit, on, k > 0);
    for (const id of ctx.pen_mates(unit, on)) day_sums(ctx, id, on, k > 0);
    yield;
  }
}

/** Milk, dates, pens, what a weight is good for and what was eaten are those known today. */
function moved_on(before: Context, view: View, day: string): Context {
  const { mates, slot, milk, weighed, old_since, unweighed, scoop_g, eaten, sums } = before.memo;
  const { appetite, need_sd, need_dry, scores, feeder } = before.memo;
  const then = new Context(view, before.outlooks, before.book, day, before, {
    mates, slot, milk, weighed, old_since, unweighed, scoop_g, eaten, sums, appetite, need_sd, need_dry, scores, feeder,
  });
  then.tried = true;
  return then;
}

function with_lines(rations: View["rations"], lines: ActLine[]): View["rations"] {
  const found = { ...rations };
  for (const change of changes_of(lines)) Object.assign(found, changed(found, change));
  return found;
}

/** Every planned meal of those who share a feeder now or will: from today's that nobody has confirmed yet. */
function meals_ahead(ctx: Context, unit: string): Feeding[] {
  const meals: Feeding[] = [];
  for (let k = 0; k <= ACT_HOLDS_D; k++) {
    const on = shift(ctx.day, k);
    const pens = new Set([unit, ...ctx.pen_mates(unit, ctx.day).map((id) => pen_on(ctx.doe(id), on) || id)]);
    for (const pen of pens) for (const slot of SLOTS) meals.push(...meal(ctx, pen, on, slot));
  }
  return meals;
}

function meal(ctx: Context, subject: string, on: string, slot: string): Feeding[] {
  const given = on === ctx.day && fed(ctx, subject, slot);
  const lines = given ? [] : plan_lines(ctx, subject, on, slot);
  const ev = `ahead|${subject}|${on}|${slot}`;
  return lines.length ? [{ ev, subject, on, slot, happened: 0, author: "", adds: false, lines }] : [];
}

/** Whether somebody has confirmed a meal of today. */
export function fed(ctx: Context, subject: string, slot: string): boolean {
  return (ctx.feedings.get(ctx.day) ?? []).some((one) => one.slot === slot && one.subject === subject);
}

/** Permille of need on a day of the plan. */
export function ratio(ahead: Ahead, id: string, of: Nutrient, on: string): number {
  const sums = day_sums(ahead.planned, id, on, true);
  return sums ? permille(sums.got[of], sums.need[of]) : 0;
}
