import { HOUR_MS } from "../../core/base/days.ts";
import { NIGHT_H } from "../../core/tables/numbers.ts";
import { day } from "../model/day.svelte.ts";
import type { DoeResult } from "../model/results.ts";

/** While she kids, and in the hours after it, her page leads to the night's. */
export function isNight({ labour, first_days }: DoeResult): boolean {
  if (labour) return true;
  const since = first_days.map(({ args }) => Number(args["since_ms"] ?? 0)).find((ms) => ms > 0) ?? 0;
  return since > 0 && day.now - since < NIGHT_H * HOUR_MS;
}
