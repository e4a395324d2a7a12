import { days_between, shift, type Context } from "../ground/context.ts";
import { milk_on } from "../feeding/needs.ts";
import { ACT_HOLDS_D, AHEAD_D } from "../../tables/numbers.ts";

/** How far ahead an act is looked at. */

/** As far as she carries, or is milked: what she needs with kids at foot, or dry, is another plan. */
export function until_d(from: Context, id: string, holds_d: number): number {
  const milked = (days: number) => milk_on(from, id, shift(from.day, days)) > 0;
  const due = due_of(from, id);
  const most_d = Math.min(holds_d, due ? within(days_between(from.day, due.mid) - 1) : ACT_HOLDS_D);
  let days = milked(0) ? AHEAD_D : most_d;
  while (days < most_d && milked(days + 1)) days += 1;
  return Math.min(days, most_d);
}

/** Limits hold until she has kidded, and she may kid late. */
export function kept_d(from: Context, id: string): number {
  const due = due_of(from, id);
  return due ? within(days_between(from.day, due.late)) : ACT_HOLDS_D;
}

const due_of = (from: Context, id: string) => (from.doe(id).bred ? from.outlooks[id]!.due : null);

const within = (days: number): number => Math.max(1, Math.min(ACT_HOLDS_D, days));
