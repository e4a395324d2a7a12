import type { Context } from "./context.ts";
import { last_score } from "./needs.ts";
import { over_is_past } from "./over.ts";
import type { DoeResult, Said } from "./shapes.ts";

/** Her condition off its band, where a score is fresh enough to go by. */
export function condition_said(ctx: Context, id: string, { band }: DoeResult): Said | null {
  const score = last_score(ctx, id);
  if (score === null || score.age_d > ctx.rule("score_holds_d") || band.length === 0) return null;
  const [low, high] = band as [number, number];
  const { x100 } = score;
  if (x100 <= low - ctx.rule("band_slack_x100")) return { code: "condition_thin", args: { x100, low } };
  if (x100 < high + ctx.rule("band_slack_x100")) return null;
  return { code: "condition_fat", args: { x100, high, late: over_is_past(ctx, id, ctx.day) } };
}
