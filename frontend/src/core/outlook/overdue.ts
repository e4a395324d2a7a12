import { days_between, type Context } from "./context.ts";
import type { Due } from "./documents.ts";
import type { Said } from "./shapes.ts";

/** Past the last day her dates allow: dead kids and false pregnancy exist, so the vet is asked. */
export function overdue_word(ctx: Context, id: string, due: Due | null): Said | null {
  if (due === null || !ctx.doe(id).bred || due.late >= ctx.day) return null;
  return { code: "overdue", args: { on: due.late, days: days_between(due.late, ctx.day) } };
}
