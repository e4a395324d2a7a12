import { days_between, shift, type Context } from "../ground/context.ts";
import type { Due } from "../ground/documents.ts";
import type { Said } from "../ground/shapes.ts";
import { CALENDAR_OVERDUE_D } from "../../tables/numbers.ts";

/** Past the last day her dates allow: dead kids and false pregnancy exist, so the vet is asked. */
export function overdue_word(ctx: Context, id: string, due: Due | null): Said | null {
  const { bred, f } = ctx.doe(id);
  if (!bred) return null;
  // so long past due that nothing is compiled any more
  const size = f["size"] === "mini" ? "mini" : "standard";
  const on = due ? due.late : shift(bred.to || bred.from, CALENDAR_OVERDUE_D[size]);
  return on < ctx.day ? { code: "overdue", args: { on, days: days_between(on, ctx.day) } } : null;
}
