import { pen_on } from "../../state/where.ts";
import { shift, type Context } from "../ground/context.ts";
import { CLEAN_MEALS, WEEK_D } from "../../tables/numbers.ts";

/**
 * What somebody saw of her feeder over a week: "left" where hay of the pen's was left, so that nobody went without;
 * "clean" where meal after meal was eaten up, so that nobody knows what more they would have eaten; "" where it was
 * both or nobody looked. What she left of her own is another matter: she is off it.
 */
export function feeder_says(ctx: Context, id: string, on: string): "left" | "clean" | "" {
  return ctx.memo.feeder.once(id, on, () => find_said(ctx, id, on));
}

function find_said(ctx: Context, id: string, on: string): "left" | "clean" | "" {
  const pen = pen_on(ctx.doe(id), on);
  const seen = Array.from({ length: WEEK_D }, (_, ago) => ctx.intakes.get(shift(on, -ago)) ?? []).flat();
  if (seen.some(({ subject, how }) => subject === id && how !== "ate_all")) return "";
  const hers = seen.filter(({ subject }) => subject === pen || subject === id);
  const meals = (what: string) => hers.filter(({ how }) => how === what);
  const [left, clean] = [meals("left_some").length, meals("ate_all").length];
  if (left) return clean ? "" : "left";
  return clean >= CLEAN_MEALS ? "clean" : "";
}
