import type { Context } from "../ground/context.ts";
import { milk_on } from "../feeding/needs.ts";
import type { Finding } from "./change.ts";

/** What may stand behind going on all the same. That the milk goes down is said of does in milk alone. */
const REASONS = ["had", "vet", "rules", "gone", "dried"] as const;

export function reasons(ctx: Context, findings: Finding[]): string[] {
  const milked = findings.some(({ does }) => does.some((id) => milk_on(ctx, id, ctx.day) > 0));
  return REASONS.filter((reason) => reason !== "dried" || milked);
}
