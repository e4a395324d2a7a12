import { dayOf, FarmZone, type Instant } from "../../core/base/days.ts";
import type { Slot } from "./shapes.ts";

export const FIRST_LIGHT_H = 4;
const DAY_MS = 86_400_000;

export function localClock(ms: number, zone: string): Instant {
  return new FarmZone(zone).at(ms);
}

export function slotAt(hour: number): Slot {
  if (hour < FIRST_LIGHT_H || hour >= 20) return "late";
  return hour < 11 ? "morning" : hour < 15 ? "midday" : "evening";
}

/** A time to give something that is only known by its day. */
export const noonOf = (on: string) => dayOf(on) * DAY_MS + DAY_MS / 2;
