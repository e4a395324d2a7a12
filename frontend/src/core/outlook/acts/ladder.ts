import { div, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { day_sums, eaten_on, part_of } from "../balance.ts";
import { shift, type Context } from "../context.ts";
import { is_forage, is_grain } from "../feed_classes.ts";
import { planned_slots, subject_lines } from "../plan.ts";
import { dry_g, leaves } from "../sharing.ts";
import type { Nutrient } from "../shapes.ts";
import { ACT_FEEDS, ACT_SWITCH_FREE_PM } from "../../tables/numbers.ts";
import { grams_of, parts_of } from "./containers.ts";
import { grain_changes, next_raise_on, parts_a_step } from "./grain.ts";
import { eaten_by_all, on_hand } from "./on_hand.ts";
import type { ActCode, ActLine } from "./shapes.ts";
import { forage_changes, line_of, over_meals } from "./steps.ts";

/** One rung with one feed: what so many parts a day more, or less, come to in the plan. */
export interface Rung {
  code: ActCode;
  to: "doe" | "pen";
  subject: string;
  feed: string;
  most: number;
  lines: (n: number) => ActLine[];
}

/** What the ladder is built from for one doe. */
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
  appetite_g: number;
}

export function barn_of(ctx: Context, unit: string, id: string, of: Nutrient): Barn | null {
  const start = shift(ctx.day, 1);
  const [sums, meals] = [day_sums(ctx, id, start, true), planned_slots(ctx, id, start)];
  if (sums === null || !meals.length) return null;
  const { dm_by, dm, appetite_g } = sums;
  return { ctx, id, unit, of, meals, hand: on_hand(ctx), start, dm_by, dm, appetite_g };
}

/** Fill the feeder, her own bowl, better hay, legume, a grain step. */
export function up(barn: Barn): Rung[] {
  return [...fill(barn), ...bowl(barn), ...better(barn), ...legume(barn), ...concentrate(barn)];
}

/** kJ or mg per gram of dry matter, times a thousand. */
const worth = ({ ctx, of }: Barn, feed: string) => part_of(ctx, feed, of, 1000);
const class_of = ({ ctx }: Barn, feed: string) => ctx.feed(feed)!.class;
const alone = ({ unit, id }: Barn) => unit === id;

/** Forage lines that reach her: the feeder's and her own, the larger first. */
function hay_lines({ ctx, id, unit, start, meals }: Barn, subject: string): [feed: string, slots: string[]][] {
  const grams = new Map<string, [g: number, slots: string[]]>();
  for (const slot of meals) {
    for (const [feed, g] of subject_lines(ctx, subject, start, slot)) {
      if (!is_forage(ctx.feed(feed)) || leaves(ctx, id, feed) || (subject === unit && ctx.feed(feed)?.grazed)) continue;
      const held = grams.get(feed);
      grams.set(feed, [(held?.[0] ?? 0) + g, [...(held?.[1] ?? []), slot]]);
    }
  }
  return [...grams].sort((a, b) => b[1][0] - a[1][0] || compareText(a[0], b[0])).map(([feed, [, slots]]) => [feed, slots]);
}

function fill(barn: Barn): Rung[] {
  const { ctx, id, unit, hand } = barn;
  const [shared, own] = [alone(barn) ? [] : hay_lines(barn, unit), hay_lines(barn, id)];
  const at = shared.length ? unit : id;
  const [main] = shared.length ? shared : own;
  if (!main || !hand.includes(main[0]) || !offered_short(barn, at)) return [];
  const heads = at === unit ? ctx.pen_mates(unit, ctx.day).length : 1;
  return forage(barn, "fill_feeder", at, main[0], main[1], heads);
}

/** Whether they could eat more than they are given. */
function offered_short({ ctx, id, unit, start }: Barn, at: string): boolean {
  const ids = at === unit && unit !== id ? ctx.pen_mates(unit, start) : [id];
  const room = (mate: string) => {
    const sums = day_sums(ctx, mate, start, true);
    return sums ? sums.appetite_g - sums.dm : 0;
  };
  return sum(ids.map(room)) > 0;
}

function bowl(barn: Barn): Rung[] {
  if (alone(barn)) return [];
  const [main] = hay_lines(barn, barn.unit);
  return main && barn.hand.includes(main[0]) ? forage(barn, "own_bowl", barn.id, main[0], barn.meals, 1) : [];
}

function better(barn: Barn): Rung[] {
  const [now] = hay_lines(barn, barn.unit).concat(hay_lines(barn, barn.id));
  const least = now ? worth(barn, now[0]) : 0;
  const feeds = barn.hand.filter((feed) => ["grass", "mixed"].includes(class_of(barn, feed)) && worth(barn, feed) > least);
  return best(barn, feeds).flatMap((feed) => forage(barn, "better_hay", barn.id, feed, barn.meals, 1));
}

function legume(barn: Barn): Rung[] {
  const feeds = barn.hand.filter((feed) => class_of(barn, feed) === "legume");
  return best(barn, feeds).flatMap((feed) => forage(barn, "legume_up", barn.id, feed, barn.meals, 1));
}

/** The ones she gets already, then the richest. */
function best(barn: Barn, feeds: string[]): string[] {
  const had = (feed: string) => Number((barn.dm_by[feed] ?? 0) > 0);
  const liked = feeds.filter((feed) => eaten_by_all(barn.ctx, [barn.id], feed));
  const order = (a: string, b: string) => had(b) - had(a) || worth(barn, b) - worth(barn, a) || compareText(a, b);
  return liked.sort(order).slice(0, ACT_FEEDS);
}

/** One rung a way of measuring: in her container, then by the scale where a container is too coarse. */
function forage(
  barn: Barn, code: ActCode, subject: string, feed: string, slots: string[], heads: number,
): Rung[] {
  const { ctx, id, unit, start, dm, appetite_g } = barn;
  const to = subject === unit && unit !== id ? "pen" : "doe";
  return parts_of(ctx, feed).map((part) => {
    const one_g = Math.max(1, dry_g(ctx, feed, grams_of(part, 1)));
    const most = Math.max(1, div(appetite_g * heads, one_g));
    const known = (barn.dm_by[feed] ?? 0) * 2 >= dm;
    const lines = (n: number) => {
      const gently = !known && n * one_g * 1000 > dm * heads * ACT_SWITCH_FREE_PM;
      const shares = over_meals(n, slots.length);
      return slots.flatMap((slot, i) =>
        shares[i]
          ? [line_of(ctx, { subject, to, slot, feed }, part, forage_changes(shares[i]!, start, gently))]
          : [],
      );
    };
    return { code, to, subject, feed, most, lines };
  });
}

function concentrate(barn: Barn): Rung[] {
  const { ctx, hand, of } = barn;
  const rich = of === "me" ? ["grain"] : ["protein", "byproduct", "grain"];
  const feeds = hand.filter((feed) => rich.includes(class_of(barn, feed)) && is_grain(ctx.feed(feed)));
  return best(barn, feeds).flatMap((feed) => grain(barn, of === "me" ? "grain_up" : "protein_up", feed));
}

function grain(barn: Barn, code: ActCode, feed: string): Rung[] {
  const { ctx, id } = barn;
  const { limits } = ctx.outlooks[id]!;
  const slots = grain_slots(barn);
  const room_g = Math.max(limits.grain_day_g, limits.milk_grain_day_g) - eaten_on(ctx, id, barn.start, true).day_g;
  return parts_of(ctx, feed).flatMap((part) => {
    const each = parts_a_step(ctx, id, feed, part);
    const most = each ? div(room_g * each, limits.step_g) : 0;
    if (most < 1) return [];
    const lines = (n: number) =>
      grain_changes(ctx, id, n, slots.length, each, next_raise_on(ctx, id)).flatMap((changes, i) =>
        changes.length ? [line_of(ctx, { subject: id, to: "doe", slot: slots[i]!, feed }, part, changes)] : [],
      );
    return [{ code, to: "doe" as const, subject: id, feed, most, lines }];
  });
}

/** The meals at which she gets grain, or all of hers. */
function grain_slots({ ctx, id, start, meals }: Barn): string[] {
  const had = meals.filter((slot) => subject_lines(ctx, id, start, slot).some(([feed]) => is_grain(ctx.feed(feed))));
  return had.length ? had : meals;
}
