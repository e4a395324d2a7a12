import { days_between } from "../../core/outlook/ground/context.ts";

/** Where a day stands on the line all share, of a thousand: from today, or the first window, to the last one's end. */
export function along(windows: { early: string; late: string }[], today: string): (on: string) => number {
  const dates = windows.flatMap(({ early, late }) => [early, late]);
  const from = dates.reduce((a, b) => (b < a ? b : a), today);
  const to = dates.reduce((a, b) => (b > a ? b : a), today);
  const whole = Math.max(1, days_between(from, to));
  return (on) => Math.round((1000 * days_between(from, on)) / whole);
}
