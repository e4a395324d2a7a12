import { addDays, dayOf, FarmZone, type Instant } from "../../core/base/days.ts";
import { SLOT_FROM_H, USUAL_H } from "../../core/tables/numbers.ts";
import type { Slot } from "./shapes.ts";

export const FIRST_LIGHT_H = SLOT_FROM_H.morning;
const DAY_MS = 86_400_000;

export function localClock(ms: number, zone: string): Instant {
  return new FarmZone(zone).at(ms);
}

export function slotAt(hour: number): Slot {
  const { midday, evening, late } = SLOT_FROM_H;
  if (hour < FIRST_LIGHT_H || hour >= late) return "late";
  return hour < midday ? "morning" : hour < evening ? "midday" : "evening";
}

/**
 * The meal a keeper comes for at an hour: of those something is planned for, the nearest, and of two as near the one to
 * come; the hour's own where nothing is planned. Late there is a last look, fed or not.
 */
export function mealAt(hour: number, planned: readonly string[]): Slot {
  const now = slotAt(hour);
  if (now === "late" || !planned.length || planned.includes(now)) return now;
  const meals = (Object.keys(USUAL_H) as (keyof typeof USUAL_H)[]).filter((slot) => planned.includes(slot)).reverse();
  const far = (slot: keyof typeof USUAL_H) => Math.abs(USUAL_H[slot] - hour);
  return meals.sort((a, b) => far(a) - far(b))[0] ?? now;
}

/** A time to give something that is only known by its day. */
export const noonOf = (on: string) => dayOf(on) * DAY_MS + DAY_MS / 2;

/** What was written past midnight is kept under the evening before; said with its hour it bears the date of that hour. */
export function dateAt(on: string, at: number, zone: string): string {
  const date = at > 0 ? localClock(at, zone).date : on;
  return date === addDays(on, 1) ? date : on;
}
