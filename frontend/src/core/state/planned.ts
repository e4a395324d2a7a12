import type { Step } from "./view.ts";

/** A place in the plan, as the folded rations go by it. */
export const place_key = (subject: string, slot: string, feed: string): string => `${subject}|${slot}|${feed}`;

/** Grams a day in force on a date; 0 before the first step. */
export function amount_on(steps: Step[], on: string): number {
  let grams = 0;
  for (const [start, amount] of steps) if (start <= on) grams = amount;
  return grams;
}
