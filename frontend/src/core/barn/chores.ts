import { addDays } from "../base/days.ts";
import { SLOTS } from "../outlook/ground/context.ts";
import { SLOTS as ALL_SLOTS } from "../tables/entries.ts";
import type { Line, Round, View } from "../state/view.ts";
import { RAISES_WAIT_D, SLOT_FROM_H, USUAL_H } from "../tables/numbers.ts";

/** What a round of the barn still lacks, read from the view alone: heads, the end of chores, meals nobody confirmed. */
export const LAST_LOOK = ["water", "hay", "released", "gates"] as const;

const ALL_DAY: readonly string[] = ALL_SLOTS;

export interface Meal {
  on: string;
  slot: string;
}

export interface Heads {
  of: number;
  /** The last count of this round, or undefined while nobody has counted. */
  told: Round | undefined;
  /** Who was not there when the heads were counted, and has not been seen since. */
  missing: string[];
}

/**
 * A count of the farm is a round about the farm. Somebody who was not there is a round about her, none of one; she is
 * missing until a later round finds her, or anything at all is seen of her at a meal.
 */
export function heads(view: View, farm: string, meal: Meal): Heads {
  const here = Object.values(view.does).filter((doe) => !doe.left_on);
  const since = addDays(meal.on, -1);
  const counts = view.rounds.filter((round) => round.what === "heads" && round.on >= since);
  const missing = here.filter(({ id }) => is_missing(view, counts, farm, id)).map(({ id }) => id);
  return { of: here.length, told: last_round(view, farm, "heads", meal), missing };
}

function is_missing(view: View, counts: Round[], farm: string, id: string): boolean {
  const last = counts.findLast(({ subject, count, of }) => subject === id || (subject === farm && count === of));
  if (last?.subject !== id || last.count > 0) return false;
  return !view.intakes.some(({ subject, happened }) => subject === id && happened > last.happened);
}

export function last_round(view: View, farm: string, what: string, { on, slot }: Meal): Round | undefined {
  return view.rounds.findLast(
    (round) => round.subject === farm && round.what === what && round.on === on && round.slot === slot,
  );
}

export interface Unconfirmed extends Meal {
  pen: string;
  lines: Line[];
}

type Plan = (pen: string, on: string, slot: string) => Line[];

/**
 * Meals of the last day that were planned and of which nobody said a word: neither eaten nor refused. Those before this
 * one, and this one too once its time is `over`.
 */
export function unconfirmed(view: View, pens: string[], plan: Plan, { on, slot }: Meal, over = false): Unconfirmed[] {
  const place = ALL_DAY.indexOf(slot) + (over ? 1 : 0);
  const yesterday = addDays(on, -1);
  const meals: Meal[] = [
    ...SLOTS.filter((each) => ALL_DAY.indexOf(each) >= ALL_DAY.indexOf(slot)).map((each) => ({
      on: yesterday, slot: each,
    })),
    ...SLOTS.filter((each) => ALL_DAY.indexOf(each) < place).map((each) => ({ on, slot: each })),
  ];
  const fed = new Set(view.feedings.map((feeding) => `${feeding.subject}|${feeding.on}|${feeding.slot}`));
  return meals.flatMap((meal) => pens.flatMap((pen) => {
    const lines = fed.has(`${pen}|${meal.on}|${meal.slot}`) ? [] : plan(pen, meal.on, meal.slot);
    return lines.length ? [{ ...meal, pen, lines }] : [];
  }));
}

/** By the clock another feeding has begun since. Before first light it is still the night of the day before. */
export function is_over(slot: string, now: string, hour: number): boolean {
  return hour >= SLOT_FROM_H.morning && ALL_DAY.indexOf(now) > ALL_DAY.indexOf(slot);
}

const HOUR_MS = 3_600_000;

/**
 * A time for what is only known by its meal: the usual hour of that slot, on the hour, never one that is still to come.
 */
export function usual_ms({ on, slot }: Meal, now_ms: number, today: string, hour: number): number {
  const days = on === today ? 0 : on < today ? 1 : -1;
  const full_hour = now_ms - (now_ms % HOUR_MS);
  const usual_h = USUAL_H[slot as keyof typeof USUAL_H] ?? USUAL_H.midday;
  return Math.min(now_ms, full_hour - (hour - usual_h + 24 * days) * HOUR_MS);
}

/** The first feeding of the day is over: whoever was to be looked at and was not, is late. */
export function looks_are_late(hour: number): boolean {
  return hour >= SLOT_FROM_H.midday;
}

export interface Recheck {
  /** Minutes until the next look; below zero it is overdue. */
  minutes: number;
  over: boolean;
}

export function recheck(recheck_ms: number, now_ms: number): Recheck {
  const minutes = Math.ceil((recheck_ms - now_ms) / 60_000);
  return { minutes, over: minutes <= 0 };
}

const LATE_STAGES = ["late", "last_weeks", "labour", "fresh"];
const ALWAYS = ["refused", "not_up"];

/** Until when her grain is held as it is after she left something: the day after, longer where it means more. */
export function held_until(how: string, stage: string, on: string): string {
  if (how === "ate_all") return "";
  return addDays(on, ALWAYS.includes(how) || LATE_STAGES.includes(stage) ? RAISES_WAIT_D.longer : RAISES_WAIT_D.usual);
}
