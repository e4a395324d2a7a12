import { dayOf } from "../core/days.ts";
import type { Slot } from "./shapes.ts";

export const FIRST_LIGHT_H = 4;
const DAY_MS = 86_400_000;
const zones = new Map<string, Intl.DateTimeFormat>();

export function localClock(ms: number, zone: string): { date: string; hour: number } {
  let format = zones.get(zone);
  if (!format) {
    format = new Intl.DateTimeFormat("en-CA", {
      timeZone: zone, hourCycle: "h23", year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit",
    });
    zones.set(zone, format);
  }
  const part = Object.fromEntries(format.formatToParts(ms).map(({ type, value }) => [type, value]));
  return { date: `${part["year"]}-${part["month"]}-${part["day"]}`, hour: Number(part["hour"]) };
}

export function slotAt(hour: number): Slot {
  if (hour < FIRST_LIGHT_H || hour >= 20) return "late";
  return hour < 11 ? "morning" : hour < 15 ? "midday" : "evening";
}

/** A time to give something that is only known by its day. */
export const noonOf = (on: string) => dayOf(on) * DAY_MS + DAY_MS / 2;
