import type { Doe } from "../../state/view.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import type { Due } from "../ground/documents.ts";
import type { Said } from "../ground/shapes.ts";
import { under_way } from "./kidding.ts";
import { CALENDAR_DUE_D, CALENDAR_OVERDUE_D, TASK_EARLY_D, USUAL_PAST_D, USUAL_SURE_D } from "../../tables/numbers.ts";

/**
 * Past her usual date by days, or past the last one where she was with the buck for longer: dead kids and false
 * pregnancy exist, so the vet is asked.
 */
export function overdue_word(ctx: Context, id: string, due: Due | null): Said | null {
  const { bred, f } = ctx.doe(id);
  if (!bred || under_way(ctx, ctx.doe(id))) return null;
  const past = due ? days_past(due, ctx.day) : 0;
  if (due && past >= USUAL_PAST_D.vet)
    return { code: "overdue", args: { on: due.mid, days: past, why: "usual" } };
  // so long past due that nothing is compiled any more
  const size = f["size"] === "mini" ? "mini" : "standard";
  const on = due ? due.late : shift(bred.to || bred.from, CALENDAR_OVERDUE_D[size]);
  return on < ctx.day ? { code: "overdue", args: { on, days: days_between(on, ctx.day) } } : null;
}

/** Days past her usual date; 0 where it is to come, or is no date to be late by. */
export function days_past({ mid, late }: Pick<Due, "mid" | "late">, today: string): number {
  return days_between(mid, late) > USUAL_SURE_D ? 0 : Math.max(0, days_between(mid, today));
}

/**
 * Until a server has worked her dates out: the days with the buck and the usual length, and the window the tasks go by.
 * Rough, and never that she is open.
 */
export function due_by_calendar({ bred, f }: Doe): Due | null {
  if (!bred) return null;
  const size = f["size"] === "mini" ? "mini" : "standard";
  const [from, to] = [bred.from, bred.to || bred.from];
  const mid = shift(from, CALENDAR_DUE_D[size] + Math.floor(days_between(from, to) / 2));
  return { early: shift(from, TASK_EARLY_D[size]), mid, late: shift(to, CALENDAR_OVERDUE_D[size]), printed: mid };
}
