import type { Context } from "./context.ts";

/** Thresholds of energy prompts, as they stand where the book is older than the rule. */
export const FITTED = {
  milk_slack_pm: 200, short_clear_pm: 50, short_again_pm: 100, feed_fell_pm: 120, ahead_clear_pm: 150,
  over_near_pm: 50, over_dried_pm: 40, over_ends_d: 10, late_clear_pm: 30, late_ahead_clear_pm: 120,
  late_many_clear_pm: 70, cut_eaten_pm: 120,
};

export function fitted(ctx: Context, name: keyof typeof FITTED): number {
  return ctx.rules[name] ?? FITTED[name];
}
