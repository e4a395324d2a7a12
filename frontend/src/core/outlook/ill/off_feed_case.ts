import { compareText } from "../../events/order.ts";
import type { Intake, Triage } from "../../state/view.ts";
import { is_buck } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { CLOSE, stage_of } from "./off_feed_stage.ts";
import { CASE_D, SIGNS_HOLD_D } from "../../tables/numbers.ts";

/**
 * A case of a doe off her feed: what was left since she last cleaned up, and what those who looked at her found.
 */
export type Left = Pick<Intake, "ev" | "on" | "slot" | "happened" | "how" | "left_pm" | "feed" | "author">;

/** `meals` are the open ones, each with what was left of it; `looks` what was found since, in order. */
export interface Case {
  meals: Left[][];
  looks: Triage[];
}

/** In the order of how much each means. */
const WATCH_HOWS = ["left_some", "slow", "refused", "strains", "not_up"];
const GOES_ON = new Set(["same", "worse", "down", "vet_called"]);
const LOUDER = new Set(["worse", "down"]);

/** The worst that was seen at the last meal. */
export function last_of({ meals }: Case): Left {
  const rank = ({ how }: Left) => WATCH_HOWS.indexOf(how);
  return meals.at(-1)!.reduce((worst, one) => (rank(one) - rank(worst) || in_time(one, worst)) > 0 ? one : worst);
}

export function since_ms({ meals }: Case): number {
  return Math.min(...meals.flat().map(({ happened }) => happened));
}

/** From when the next look is counted: the last meal, or a look that found her no better. */
export function clock_ms({ meals, looks }: Case): number {
  const looked = looks.filter(({ result }) => GOES_ON.has(result));
  return Math.max(0, ...[...meals.at(-1)!, ...looked].map(({ happened }) => happened));
}

/** Not up, or found down, and not seen at the feeder since. */
export function is_down({ meals, looks }: Case): boolean {
  const seen = meals.flat().map(({ happened, ev, how }) => ({ happened, ev, down: how === "not_up" }));
  for (const { happened, ev, result } of looks) if (result === "down") seen.push({ happened, ev, down: true });
  return seen.reduce((last, one) => (in_time(one, last) > 0 ? one : last)).down;
}

/** When the vet was called, unless she got worse since; 0 when not. */
export function vet_ms({ meals, looks }: Case): number {
  const called = looks.findLast(({ result }) => result === "vet_called");
  const worse = [
    ...looks.filter(({ result }) => LOUDER.has(result)), ...meals.flat().filter(({ how }) => how === "not_up"),
  ];
  return called && worse.every(({ happened }) => happened <= called.happened) ? called.happened : 0;
}

/**
 * Her open case, or null; a buck's is another matter. A later "ate all", "eating", or a later clean feeding of her own
 * closes it, but for a grave one near kidding. One not up, down or worse is closed by "eating" alone: "all up and
 * eating" may come from a phone that has not heard.
 */
export function case_of(ctx: Context, id: string): Case | null {
  const days = Array.from({ length: CASE_D + 1 }, (_, k) => shift(ctx.day, k - CASE_D));
  const hers = days.flatMap((on) => ctx.intakes.get(on) ?? []).filter(({ subject }) => subject === id);
  const looked = ctx.doe(id).triages.filter(({ on }) => days[0]! <= on && on <= ctx.day);
  return is_buck(ctx.doe(id)) ? case_of_buck(ctx, id, hers, looked) : case_of_doe(ctx, id, hers, looked);
}

function case_of_doe(ctx: Context, id: string, hers: Intake[], looked: Triage[]): Case | null {
  const yesterday = shift(ctx.day, -1);
  const eating_at = Math.max(0, ...looked.filter(({ result }) => result === "eating").map(({ happened }) => happened));
  let looks = looked.filter(({ happened }) => happened > eating_at);
  let left: Left[] = hers.filter(({ how, happened }) => WATCH_HOWS.includes(how) && happened > eating_at);
  if (!left.some(({ how }) => how === "not_up") && !looks.some(({ result }) => LOUDER.has(result))) {
    const ate = hers.filter(({ how }) => how === "ate_all");
    left = left.filter((one) => !ate.some((meal) => cleared(one, meal)));
    looks = looks.filter(({ happened }) => !ate.some((meal) => meal.happened > happened));
  }
  if (left.length === 0) left = looks.filter(({ result }) => result === "down").map((look) => as_seen(look, "not_up"));
  left.sort(in_time);
  if (left.length && !looked_after(left, looks)) {
    const grave = CLOSE.has(stage_of(ctx, id)) ? first_grave(left, ctx.doe(id).kidded?.on ?? "") : -1;
    left = grave < 0 ? left.filter(({ on }) => on >= yesterday) : left.slice(grave);
    if (grave < 0 && left.length && fed_clean_since(ctx, id, left.at(-1)!)) return null;
  }
  return left.length ? { meals: by_meal(left), looks: since(left, looks) } : null;
}

/** Only ease and a stream that somebody saw, both since the last trouble, end a buck's case. */
function case_of_buck(ctx: Context, id: string, hers: Intake[], looked: Triage[]): Case | null {
  const strained = looked.filter(({ strains, passes }) => strains === "yes" || passes === "drips");
  const down = looked.filter(({ result }) => result === "down");
  const all: Left[] = [
    ...hers.filter(({ how }) => WATCH_HOWS.includes(how)), ...strained.map((look) => as_seen(look, "strains")),
    ...down.map((look) => as_seen(look, "not_up")), ...straining(ctx, id),
  ].sort(in_time);
  const eased = [...hers.filter(({ how }) => how === "ate_all"), ...looked.filter(({ result }) => result === "eating")];
  const streams = looked.filter(({ passes }) => passes === "stream");
  const ended = all.findLastIndex(({ happened }, i) => {
    const next = all[i + 1]?.happened ?? Infinity;
    return [eased, streams].every((rows) => rows.some((row) => row.happened > happened && row.happened < next));
  });
  const left = all.slice(ended + 1);
  return left.length ? { meals: by_meal(left), looks: since(left, looked) } : null;
}

/** What she left before she kidded had its cause in it. */
function first_grave(left: Left[], kidded_on: string): number {
  return left.findIndex((one, i) => one.on > kidded_on && is_grave(one, i, left));
}

/** Near kidding a meal refused, or a second one left by the next day, is not over because more was put before her. */
function is_grave({ how, on, slot }: Left, i: number, left: Left[]): boolean {
  if (how === "refused") return true;
  const next = left.slice(i + 1).filter((one) => meal_of(one) !== meal_of({ on, slot }) && one.how !== "slow");
  return how === "left_some" && next.some((one) => days_between(on, one.on) <= 1);
}

/** Straining put down among the signs of kidding is no kidding of his. */
function straining(ctx: Context, id: string): Left[] {
  const rows = ctx.doe(id).signs.filter(([, seen, , , , on]) => seen.includes("straining") && on <= ctx.day);
  const from = shift(ctx.day, -SIGNS_HOLD_D);
  return rows
    .filter(([, , , , , on]) => on >= from)
    .map(([happened, , , author, ev, on]) => as_seen({ ev, on, happened, author }, "strains"));
}

/** Such a case stays open until somebody says that she eats. */
function looked_after(left: Left[], looks: Triage[]): boolean {
  return left.some(({ how }) => how === "not_up") || since(left, looks).some(({ result }) => GOES_ON.has(result));
}

function since(left: Left[], looks: Triage[]): Triage[] {
  return looks.filter(({ happened }) => happened >= left[0]!.happened);
}

/** Eaten up since, at another meal or as whoever saw it says: two who differ about one meal leave it open. */
function cleared(left: Left, ate: Left): boolean {
  return ate.happened > left.happened && (ate.author === left.author || meal_of(ate) !== meal_of(left));
}

/** Trouble that somebody saw, of one who had left nothing. */
function as_seen({ ev, on, happened, author }: Pick<Left, "ev" | "on" | "happened" | "author">, how: string): Left {
  return { ev, on, happened, author, how, slot: "", left_pm: 0, feed: "" };
}

/** The last thing said about each feed of each meal. */
function by_meal(left: Left[]): Left[][] {
  const meals = new Map<string, Map<string, Left>>();
  for (const one of left) {
    const meal = meals.get(meal_of(one)) ?? new Map<string, Left>();
    meals.set(meal_of(one), meal.set(one.feed, one));
  }
  return [...meals.values()].map((feeds) => [...feeds.values()]);
}

function fed_clean_since(ctx: Context, id: string, intake: Left): boolean {
  return [shift(ctx.day, -1), ctx.day].some((on) =>
    (ctx.feedings.get(on) ?? []).some(
      ({ happened, slot, lines }) =>
        happened > intake.happened &&
        meal_of({ on, slot }) !== meal_of(intake) &&
        lines.some(([to, , g]) => to === id && g > 0),
    ),
  );
}

function in_time(a: { happened: number; ev: string }, b: { happened: number; ev: string }): number {
  return a.happened - b.happened || compareText(a.ev, b.ev);
}

function meal_of({ on, slot }: { on: string; slot: string }): string {
  return `${on}|${slot}`;
}
