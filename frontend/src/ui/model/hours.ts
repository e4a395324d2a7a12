import { dayOf, FarmZone, type Instant } from "../../core/base/days.ts";
import { SLOT_FROM_H } from "../../core/tables/numbers.ts";
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

/** A time to give something that is only known by its day. */
export const noonOf = (on: string) => dayOf(on) * DAY_MS + DAY_MS / 2;
