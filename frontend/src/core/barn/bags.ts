import { addDays, dayOf } from "../base/days.ts";
import type { Json } from "../events/events.ts";
import type { View } from "../state/view.ts";
import { RULES } from "../tables/rules.ts";

/** What does not keep: a fermented bag once opened, and sprouts once they are ready. Whole days, no clock. */
export interface UseBy {
  opened_on: string;
  until_on: string;
  past: boolean;
  open_d: number;
}

/** Null for what keeps, or was never opened. A new bag starts the count anew. */
export function use_by(view: View, lot: string, today: string): UseBy | null {
  const f = view.lots[lot]?.f;
  const good_d = Number(f?.["use_by_d"] ?? 0);
  const opened_on = [String(f?.["opened_on"] ?? ""), view.bags[lot]?.at(-1)?.on ?? ""].sort().at(-1)!;
  if (!(good_d > 0) || !opened_on) return null;
  const until_on = addDays(opened_on, good_d);
  return { opened_on, until_on, past: today > until_on, open_d: dayOf(today) - dayOf(opened_on) };
}

export interface JarDay {
  /** The day it was soaked is day 0. */
  day: number;
  days: number;
  ready_on: string;
  last_on: string;
  last_day: number;
  st: "growing" | "ready" | "past" | "fed" | "thrown";
}

export function jar_day(f: Record<string, Json>, today: string, keep_d: number = RULES.sprout_keep_d[0]): JarDay {
  const [soaked_on, days] = [String(f["soaked_on"] ?? ""), Number(f["days"] ?? 0)];
  const last_day = days + keep_d;
  const day = dayOf(today) - dayOf(soaked_on);
  const growing = day < days ? "growing" : day <= last_day ? "ready" : "past";
  const st = f["thrown"] === true ? "thrown" : f["done_on"] ? "fed" : growing;
  return { day, days, ready_on: addDays(soaked_on, days), last_on: addDays(soaked_on, last_day), last_day, st };
}
