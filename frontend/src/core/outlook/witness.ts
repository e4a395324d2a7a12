import { confirmed, eaten_on } from "./balance.ts";
import { slot_for } from "./branches.ts";
import { high_ketones } from "./checkups.ts";
import { shift, type Context } from "./context.ts";
import { last_score } from "./needs.ts";
import { said_left } from "./sharing.ts";

/** The second witness a late energy prompt needs. Twin of herd/outlook/witness.py. */
export type Witness = "condition" | "refusal" | "ketones" | "missed_step" | "";

const SLOW = new Set(["slow", "not_up"]);

export function witness(ctx: Context, id: string): Witness {
  if (condition(ctx, id)) return "condition";
  if (refusal(ctx, id)) return "refusal";
  if (high_ketones(ctx, id)) return "ketones";
  return missed_step(ctx, id) ? "missed_step" : "";
}

function condition(ctx: Context, id: string): boolean {
  const score = last_score(ctx, id);
  const slot = slot_for(ctx, id, ctx.day);
  if (score === null || slot === null || score.age_d > ctx.rule("score_holds_d")) return false;
  return score.x100 < slot[0].band_lo[slot[1]]! || score.fell >= ctx.rule("score_fell_x100");
}

function refusal(ctx: Context, id: string): boolean {
  return [0, 1, 2].some((back) =>
    (ctx.intakes.get(shift(ctx.day, -back)) ?? []).some(
      (intake) => intake.subject === id && (SLOW.has(intake.how) || said_left(ctx, intake) >= 200),
    ),
  );
}

function missed_step(ctx: Context, id: string): boolean {
  return [1, 2].some((back) => {
    const on = shift(ctx.day, -back);
    const planned = eaten_on(ctx, id, on, true).day_g;
    return confirmed(ctx, id, on) && eaten_on(ctx, id, on).day_g * 1000 < planned * 800;
  });
}
