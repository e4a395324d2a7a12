import type { Envelope } from "../../events/events.ts";
import { MEAL_KINDS, OF_DOE_KINDS } from "../../events/kinds.ts";
import { target_of, type Log } from "../../state/refold.ts";
import { pen_on } from "../../state/where.ts";
import { clean_steps } from "../../state/rations.ts";
import { rows, text } from "../../events/values.ts";
import { shift, type Context } from "../ground/context.ts";
import type { Memo } from "../ground/memo.ts";
import { is_pen, unit_of, units_of } from "./units.ts";
import { CONDITION_FARTHEST_D, CONDITION_LEARN_D } from "../../tables/numbers.ts";
import { RULES } from "../../tables/rules.ts";

/**
 * How far one more observation reaches. What it cannot have moved is kept, so that a tap costs what it changed and not
 * what the farm holds; the whole evaluation gives the same, later.
 */
const LOCAL = new Set<string>([...MEAL_KINDS, ...OF_DOE_KINDS, "round", "freeze", "kid_weight", "kit_used"]);
const MEALS = new Set<string>(MEAL_KINDS);
/**
 * Days before and after today on which who stood beside whom can matter: the oldest score that may count and what is
 * learned before it, and as far as condition is carried ahead.
 */
const BACK_D = RULES.score_holds_d[2] + CONDITION_LEARN_D[1] + 1;
const AHEAD_D = CONDITION_FARTHEST_D + 1;

/** About one doe or one feeder, and about nothing else. A meal can also move a plan that is under question. */
function isLocal(ctx: Context, before: Context, event: Envelope): boolean {
  const { kind } = event;
  if (kind === "ration") return is_plain(ctx, before, event);
  if (kind === "kid") return dam_of(ctx, event) !== "" && [dam_of(ctx, event), ""].includes(dam_of(before, event));
  return LOCAL.has(kind) && !(kind === "fed" && ctx.asked.size > 0);
}

/** A feed that comes into the first plan, or goes out of the last, is on hand for all from then on, or no longer. */
function is_plain(ctx: Context, before: Context, { data }: Envelope): boolean {
  const feed = text(data, "feed");
  return !ctx.asked.size && !before.asked.size && is_on_hand(ctx, feed) === is_on_hand(before, feed);
}

function is_on_hand({ view: { lots, feeds, rations } }: Context, feed: string): boolean {
  return Object.hasOwn(lots, feed) || Object.hasOwn(feeds, feed)
    || Object.values(rations).some((ration) => ration.feed === feed);
}

/** What each of them was about, a void or a correction as far as what it names; null when one reaches farther. */
export function local(ctx: Context, before: Context, events: Envelope[], log: Log): Envelope[] | null {
  const about = events.map((event) => target_of(event, log) ?? event);
  return about.every((event) => isLocal(ctx, before, event)) ? about : null;
}

/** Forgets what may no longer hold; the units that have to be judged again. The context knows the event already. */
export function forget(ctx: Context, event: Envelope): string[] {
  const { kind, subject } = event;
  if (kind === "kid_weight" || kind === "kit_used") return [];
  if (kind === "kid") return [dam_of(ctx, event)].filter((id) => ctx.here(id)).map((id) => unit_of(ctx, id));
  if (MEALS.has(kind)) return of_meal(ctx, event);
  if (kind === "milk") return of_milk(ctx, subject);
  if (kind === "freeze") return of_plan(ctx, subject);
  if (kind === "ration") return of_plan(ctx, subject, first_moved(ctx, event));
  if (kind === "score") of_score(ctx, subject);
  if (Object.hasOwn(ctx.view.does, subject)) return [unit_of(ctx, subject)];
  return units_of(ctx).filter((unit) => unit === subject || !Object.hasOwn(ctx.view.pens, subject));
}

/** A kid's record is its dam's matter; "" where none of the does is she. */
function dam_of({ view: { does, kids } }: Context, { subject }: Envelope): string {
  const dam = String(kids[subject]?.f["dam"] ?? "");
  return Object.hasOwn(does, dam) ? dam : "";
}

/** Whoever ate at that feeder that day. */
function of_meal(ctx: Context, event: Envelope): string[] {
  return [...days_of(ctx, event)].flatMap((on) => of_meal_on(ctx, event, on));
}

function of_meal_on(ctx: Context, event: Envelope, on: string): string[] {
  const named = who(event);
  const does = new Set(named.filter((id) => Object.hasOwn(ctx.view.does, id)));
  const pens = new Set(named.map((id) => (does.has(id) ? pen_on(ctx.doe(id), on) || id : id)));
  for (const pen of pens) {
    ctx.memo.eaten.forget(pen, on);
    for (const mate of ctx.pen_mates(pen, on)) does.add(mate);
  }
  for (const id of does) forget_sums(ctx, id, on);
  return [...new Set([...does].filter((id) => ctx.here(id)).map((id) => unit_of(ctx, id)))];
}

/** A thin doe needs more. */
function of_score(ctx: Context, id: string): void {
  forget_need(ctx, id);
  forget_sums(ctx, id);
}

function forget_need({ memo }: Context, id: string): void {
  for (const each of [memo.need_dry, memo.need_sd, memo.appetite]) each.forget(id);
}

/** Her appetite goes with her milk, and with it what is left for whoever she eats beside. */
function of_milk(ctx: Context, id: string): string[] {
  ctx.memo.milk.forget(id);
  ctx.memo.weighed.forget(id);
  forget_need(ctx, id);
  return beside(ctx, pens_of(ctx, id), [ctx.memo.eaten, ctx.memo.planned]);
}

/**
 * What she, or a feeder, is to get from a day on has changed, and with it what whoever eats beside her would find. Up
 * to a day ahead all stands that was fed and that is summed.
 */
function of_plan(ctx: Context, subject: string, from = ""): string[] {
  ctx.memo.lines.forget_since(subject, from);
  const pens = Object.hasOwn(ctx.view.does, subject) ? pens_of(ctx, subject) : [subject];
  return [...beside(ctx, pens, [ctx.memo.planned], from), ...(is_pen(ctx, subject) ? [subject] : [])];
}

/** The first day a ration moves: its first step, where that is ahead; after a freeze its own stamp moves what was. */
function first_moved(ctx: Context, { subject, data }: Envelope): string {
  const [[on] = [""]] = clean_steps(rows(data, "steps"));
  return on > ctx.day && !ctx.view.does[subject]?.freeze ? on : "";
}

function beside(ctx: Context, all: string[], memos: Memo<unknown>[], from = ""): string[] {
  const pens = new Set(all);
  const does = Object.keys(ctx.view.does).filter((mate) => pens_of(ctx, mate).some((pen) => pens.has(pen)));
  for (const pen of pens) for (const memo of memos) memo.forget_since(pen, from);
  for (const mate of does) {
    if (!from) forget_sums(ctx, mate);
    for (const each of [ctx.memo.planned_sums, ctx.memo.confirmed]) each.forget_since(mate, from);
  }
  return [...new Set(does.filter((mate) => ctx.here(mate)).map((mate) => unit_of(ctx, mate)))];
}

function forget_sums({ memo }: Context, id: string, on?: string): void {
  for (const each of [memo.sums, memo.planned_sums]) each.forget(id, on);
  // where nothing is planned, whether a day is whole hangs on the days before it
  for (const each of [memo.confirmed, memo.windows, memo.spans, memo.held, memo.put_less]) each.forget(id);
}

/** What was seen at a meal has the meal's own date, as long as the meal stands. */
function days_of({ view }: Context, { on, data }: Envelope): Set<string> {
  const named = text(data, "fed");
  return new Set([on, (named && view.feedings.find(({ ev }) => ev === named)?.on) || on]);
}

function who(event: Envelope): string[] {
  const lines = event.kind === "fed" ? rows(event.data, "lines").map((line) => text(line, "to")) : [];
  return [event.subject, ...lines.filter((to) => to !== "")];
}

/** Every pen she was or will be in on the days that can matter, or herself while she is in none. */
function pens_of(ctx: Context, id: string): string[] {
  const { moves } = ctx.doe(id);
  const [from, to] = [shift(ctx.day, -BACK_D), shift(ctx.day, AHEAD_D)];
  const before = moves.filter(([on]) => on <= from).at(-1)?.[1] ?? "";
  const since = moves.filter(([on]) => on > from && on <= to).map(([, pen]) => pen);
  return [before, ...since].map((pen) => pen || id);
}
