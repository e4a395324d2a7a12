import { is_blank, window } from "../balance/balance.ts";
import { shift, SLOTS, type Context } from "../ground/context.ts";
import { subject_lines } from "../feeding/plan.ts";
import { WEEK_D } from "../../tables/numbers.ts";

/** The one feed whose figure is asked for: what is not known of it keeps her from being judged. */
export function feed_without_energy(ctx: Context, id: string): string {
  const { dm_by } = window(ctx, id, WEEK_D);
  return Object.keys(dm_by).sort().find((feed) => is_blank(ctx, feed, "me")) ?? "";
}

/** An own feed in her bowl that nobody has said the class of, of which she gets more than a step: it may be grain. */
export function feed_without_class(ctx: Context, id: string): string {
  const { step_g } = ctx.outlooks[id]!.limits;
  const lines = [0, 1].flatMap((ahead) => SLOTS.flatMap((slot) => subject_lines(ctx, id, shift(ctx.day, ahead), slot)));
  return lines.find(([feed, g]) => g > step_g && !ctx.feed(feed)?.class)?.[0] ?? "";
}
