import { confirmed, eaten_on } from "../balance/balance.ts";
import { high_ketones } from "../balance/checkups.ts";
import type { Context } from "../ground/context.ts";
import { last_days } from "./feeder.ts";
import { said_left } from "../feeding/sharing.ts";
import { MISSED_STEP_D, MISSED_STEP_PM, REFUSAL_D, REFUSAL_PM } from "../../tables/numbers.ts";

/** What somebody saw of her, or failed to give her, that bears out the sums. */
export type Observed = "refusal" | "ketones" | "missed_step" | "";

const SLOW = new Set(["slow", "not_up"]);

export function observed(ctx: Context, id: string): Observed {
  if (refusal(ctx, id)) return "refusal";
  if (high_ketones(ctx, id)) return "ketones";
  return missed_step(ctx, id) ? "missed_step" : "";
}

function refusal(ctx: Context, id: string): boolean {
  return last_days(ctx, 0, REFUSAL_D).some((on) =>
    (ctx.intakes.get(on) ?? []).some(
      (intake) => intake.subject === id && (SLOW.has(intake.how) || said_left(ctx, intake) >= REFUSAL_PM),
    ),
  );
}

function missed_step(ctx: Context, id: string): boolean {
  return last_days(ctx, 1, MISSED_STEP_D).some((on) => {
    const planned = eaten_on(ctx, id, on, true).day_g;
    return confirmed(ctx, id, on) && eaten_on(ctx, id, on).day_g * 1000 < planned * MISSED_STEP_PM;
  });
}
