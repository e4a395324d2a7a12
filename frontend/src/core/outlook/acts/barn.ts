import { compareText } from "../../events/order.ts";
import { day_sums, part_of } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { is_forage, is_grain } from "../ground/feed_classes.ts";
import { planned_slots, subject_lines } from "../feeding/plan.ts";
import { leaves } from "../feeding/sharing.ts";
import type { Nutrient } from "../ground/shapes.ts";
import { ACT_BACK_D, ACT_FEEDS, AHEAD_D } from "../../tables/numbers.ts";
import { eaten_by_all, on_hand } from "./on_hand.ts";

/** What a ladder is built from for one doe: her feeder and meals, the feeds on the farm and what she gets of them. */
export interface Barn {
  ctx: Context;
  id: string;
  unit: string;
  of: Nutrient;
  meals: string[];
  hand: string[];
  start: string;
  /** Dry matter she gets by the plan, by feed. */
  dm_by: Record<string, number>;
  dm: number;
  forage_g: number;
  appetite_g: number;
}

/** One feed of the plan and the meals at which it is given. */
export type Given = [feed: string, slots: string[], g: number];

/** Null while nothing is planned for her, or she has no need. */
export function barn_of(ctx: Context, unit: string, id: string, of: Nutrient): Barn | null {
  const start = shift(ctx.day, 1);
  const [sums, meals] = [day_sums(ctx, id, start, true), planned_slots(ctx, id, start)];
  if (sums === null || !meals.length) return null;
  const { dm_by, dm, forage_g, appetite_g } = sums;
  return { ctx, id, unit, of, meals, hand: on_hand(ctx), start, dm_by, dm, forage_g, appetite_g };
}

/** kJ or mg in a kilogram of dry matter. */
export const worth = ({ ctx, of }: Barn, feed: string): number => part_of(ctx, feed, of, 1000);
export const class_of = ({ ctx }: Barn, feed: string): string => ctx.feed(feed)!.class;
/** Nobody eats beside her. */
export const alone = ({ ctx, unit, id, start }: Barn): boolean => unit === id || ctx.pen_mates(unit, start).length < 2;
/** Where more of a feed for her alone goes: her own bowl, or the feeder nobody shares with her. */
export const bowl_of = (barn: Barn): string => (alone(barn) && hay_of(barn, barn.unit).length ? barn.unit : barn.id);
export const target = ({ unit, id }: Barn, subject: string): "pen" | "doe" =>
  subject === unit && unit !== id ? "pen" : "doe";

/** Forage that is given to her or to her feeder, the most first; not what grows, nor what she leaves. */
export function hay_of(barn: Barn, subject: string): Given[] {
  return given(barn, subject, (feed) => is_forage(barn.ctx.feed(feed)) && !barn.ctx.feed(feed)!.grazed);
}

export function grain_of(barn: Barn): Given[] {
  return given(barn, barn.id, (feed) => is_grain(barn.ctx.feed(feed)));
}

function given({ ctx, id, start, meals }: Barn, subject: string, counts: (feed: string) => boolean): Given[] {
  const found = new Map<string, Given>();
  for (const slot of meals) {
    for (const [feed, g] of most_of(ctx, subject, start, slot)) {
      if (!counts(feed) || leaves(ctx, id, feed)) continue;
      const [, slots, so_far] = found.get(feed) ?? [feed, [], 0];
      found.set(feed, [feed, [...slots, slot], so_far + g]);
    }
  }
  return [...found.values()].sort((a, b) => b[2] - a[2] || compareText(a[0], b[0]));
}

/** Tomorrow's amounts, or what is soon to come where that is more. */
function most_of(ctx: Context, subject: string, start: string, slot: string): Map<string, number> {
  const most = new Map<string, number>();
  for (const on of [start, shift(start, ACT_BACK_D), shift(start, AHEAD_D)]) {
    for (const [feed, g] of subject_lines(ctx, subject, on, slot)) most.set(feed, Math.max(g, most.get(feed) ?? 0));
  }
  return most;
}

/** The ones she gets already, then the richest, or the plainest. */
export function best(barn: Barn, feeds: string[], plainest = false): string[] {
  const had = (feed: string) => Number((barn.dm_by[feed] ?? 0) > 0);
  const liked = feeds.filter((feed) => eaten_by_all(barn.ctx, [barn.id], feed));
  const rich = (a: string, b: string) => (plainest ? worth(barn, a) - worth(barn, b) : worth(barn, b) - worth(barn, a));
  return liked.sort((a, b) => had(b) - had(a) || rich(a, b) || compareText(a, b)).slice(0, ACT_FEEDS);
}

export function of_class(barn: Barn, ...classes: string[]): string[] {
  return barn.hand.filter((feed) => classes.includes(class_of(barn, feed)));
}
