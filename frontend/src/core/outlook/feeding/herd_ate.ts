import { div } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { pen_on } from "../../state/where.ts";
import { SLOTS, type Context } from "../ground/context.ts";
import { confirmed_lines, dry_g, left_of, waste_pm } from "./sharing.ts";

/** Grams of dry matter of a feed; null where its dry matter is not known. */
export type Ate = [feed: string, dm_g: number | null];

/** Whose meals: of which pen, on which date. */
type Meals = Parameters<typeof confirmed_lines>[0];

/** All that was eaten on a date, meal by meal, less the feeder's waste and what was left: for the herd's card. */
export function herd_ate(ctx: Context, on: string): Ate[] {
  const { does, pens } = ctx.view;
  const penned = (id: string) => Object.hasOwn(pens, pen_on(ctx.doe(id), on));
  const loose = Object.keys(does).filter((id) => ctx.here(id) && !penned(id));
  return [...Object.keys(pens), ...loose].sort(compareText).flatMap((pen) => pen_ate(ctx, pen, on));
}

function pen_ate(ctx: Context, pen: string, on: string): Ate[] {
  const at = { ctx, pen, on, does: ctx.pen_mates(pen, on) };
  return SLOTS.flatMap((slot) =>
    [...confirmed_lines(at, slot)[0]].flatMap(([target, lines]) =>
      lines.filter(([, g]) => g > 0).map(([feed, g]): Ate => [feed, eaten_g(at, target, slot, feed, g)]),
    ),
  );
}

function eaten_g({ ctx, pen, on }: Meals, target: string, slot: string, feed: string, g: number): number | null {
  if (!ctx.feed(feed)?.dm_pm) return null;
  const wasted_pm = target ? 0 : waste_pm(ctx, pen, feed);
  const reached_g = div(dry_g(ctx, feed, g) * (1000 - wasted_pm), 1000);
  return div(reached_g * (1000 - left_of(ctx, target || pen, on, slot, feed)), 1000);
}
