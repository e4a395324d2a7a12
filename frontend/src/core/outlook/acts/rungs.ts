import { div, sum } from "../../base/ints.ts";
import { eaten_on } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { milk_on } from "../feeding/needs.ts";
import { dry_g, grain_g } from "../feeding/sharing.ts";
import {
  ACT_EVEN, ACT_STEP_FINEST, ACT_SWITCH_D, ACT_SWITCH_FREE_PM, ACT_SWITCH_PARTS, GRAIN_LOOK_D,
} from "../../tables/numbers.ts";
import { hay_of, target, type Barn, type Given } from "./barn.ts";
import { grams_of, nearest_parts, parts_of, type Part } from "./containers.ts";
import { most_at_once_pm } from "./limits.ts";
import type { ActCode, ActLine } from "./shapes.ts";
import { even_meals, forage_changes, line_of, over_meals, stepped, type Change } from "./steps.ts";

/** One rung with one feed: what so many parts a day more, or less, come to in the plan. */
export interface Rung {
  code: ActCode;
  to: "doe" | "pen";
  subject: string;
  feed: string;
  most: number;
  /** Its container is coarser than a scale. */
  coarse?: boolean;
  /** Dry matter in one part of hay. */
  one_g?: number;
  lines: (n: number) => ActLine[];
}

const heads_at = ({ ctx, id, unit }: Barn, subject: string): number =>
  subject === unit && unit !== id ? ctx.pen_mates(unit, ctx.day).length : 1;

const one_dry_g = (ctx: Context, feed: string, part: Part): number => Math.max(1, dry_g(ctx, feed, grams_of(part, 1)));

/** Permille of her forage that becomes another where so much of a feed comes in; once she is full it takes a place. */
function moved_pm({ dm_by, dm, forage_g, appetite_g }: Barn, feed: string, dry: number): number {
  if (!forage_g) return 0;
  const then = Math.max(forage_g, Math.min(forage_g + dry, appetite_g - dm + forage_g));
  const other = forage_g - Math.min(forage_g, dm_by[feed] ?? 0);
  return div(Math.min(1000, div(dry * 1000, then)) * other, forage_g);
}

/** Permille by which the share of the other forages grows where so much of a feed is taken away. */
function thinned_pm({ dm_by, forage_g }: Barn, feed: string, dry: number): number {
  const rest = forage_g - Math.min(forage_g, dm_by[feed] ?? 0);
  return rest ? Math.min(1000, div(rest * 1000, Math.max(1, forage_g - dry)) - div(rest * 1000, forage_g)) : 0;
}

/** Parts of one forage by meal and date; null where already the first step of a change would be too much at once. */
function changes_of(
  barn: Barn, at: { heads: number; slots: string[]; one_g: number; feed: string; same?: boolean; over_d: number },
  n: number,
): Change[][] | null {
  const { heads, slots, one_g, feed, same, over_d } = at;
  const moved = (parts: number) => (same ? thinned_pm : moved_pm)(barn, feed, div(parts * one_g, heads));
  const slowly = moved(Math.abs(n)) > ACT_SWITCH_FREE_PM;
  // nobody counts out what goes into a feeder for many, nor each step of a change
  const even = heads > 1 || (slowly && Math.abs(n) >= ACT_EVEN * slots.length);
  const shared = (parts: number) => (even ? even_meals : over_meals)(parts, slots.length);
  const changes = forage_changes(n, slowly ? over_d : 0, barn.start, shared);
  const first = sum(changes.map(([at_once]) => (at_once?.[0] === barn.start ? Math.abs(at_once[1]) : 0)));
  return slowly && moved(first) > most_at_once_pm() ? null : changes;
}

/** As many parts as may be changed at all. */
function possible(most: number, changes: (n: number) => Change[][] | null): number {
  let n = most;
  while (n > 0 && changes(n) === null) n -= 1;
  return n;
}

/** More of a forage; one rung a way of measuring: in her container, then by the scale where that is too coarse. */
export function more_hay(barn: Barn, code: ActCode, subject: string, feed: string, slots: string[]): Rung[] {
  const { ctx, appetite_g } = barn;
  const [to, heads] = [target(barn, subject), heads_at(barn, subject)];
  return parts_of(ctx, feed).map((part) => {
    const one_g = one_dry_g(ctx, feed, part);
    const changes = (n: number) => changes_of(barn, { heads, slots, one_g, feed, over_d: ACT_SWITCH_D }, n);
    const lines = (n: number) =>
      (changes(n) ?? []).flatMap((at, i) =>
        at.length ? [line_of(ctx, { subject, to, slot: slots[i]!, feed }, part, at)] : [],
      );
    const most = possible(div(appetite_g * heads, one_g), changes);
    return { code, to, subject, feed, most, coarse: part.by !== "g", one_g, lines };
  });
}

/** More of all the forage that is given, in the measure in which it is: that is no change of it. */
export function more_of_all(barn: Barn, code: ActCode, subject: string, given: [Given, ...Given[]]): Rung[] {
  const [{ ctx, start }, [main, ...others]] = [barn, given];
  const dry = ([feed, , g]: Given) => dry_g(ctx, feed, g);
  const beside = others.filter((given) => dry(given) * 1000 >= dry(main) * ACT_SWITCH_FREE_PM);
  return more_hay(barn, code, subject, main[0], main[1]).map((rung): Rung => {
    if (!beside.length) return rung;
    const to = target(barn, subject);
    const more = ([feed, slots, g]: Given, part: Part, parts_dry_g: number): ActLine[] => {
      const parts = nearest_parts(part, div(parts_dry_g * g, Math.max(1, dry([feed, slots, g]))));
      return over_meals(parts, slots.length).flatMap((n, i) =>
        n ? [line_of(ctx, { subject, to, slot: slots[i]!, feed }, part, [[start, n]])] : [],
      );
    };
    const whole = dry(main) + sum(beside.map(dry));
    const lines = (n: number) =>
      [main, ...beside].flatMap((given) => {
        const parts = parts_of(ctx, given[0]);
        const part = given === main && rung.coarse ? parts[0] : parts.at(-1);
        return part ? more(given, part, div(n * rung.one_g! * dry(given), Math.max(1, whole))) : [];
      });
    return { ...rung, most: div(barn.appetite_g * heads_at(barn, subject), rung.one_g!), lines };
  });
}

/** Of so much that is put before her, what she eats: of hay given well beyond her appetite only a part. */
function eaten_of(barn: Barn, subject: string, g: number): number {
  const given = sum(hay_of(barn, subject).map(([feed, , whole]) => dry_g(barn.ctx, feed, whole)));
  const whole = div(given, heads_at(barn, subject));
  return whole > barn.forage_g ? div(g * barn.forage_g, whole) : g;
}

/** Less of a forage, with as much dry matter of another in its place, or with nothing. */
export function less_hay(
  barn: Barn, code: ActCode, subject: string, [feed, slots, g]: Given, instead = "", over_d = ACT_SWITCH_D,
): Rung[] {
  const { ctx } = barn;
  const [to, heads] = [target(barn, subject), heads_at(barn, subject)];
  return parts_of(ctx, feed).flatMap((part) => {
    const other = instead ? parts_of(ctx, instead).at(-1) : null;
    if (other === undefined) return [];
    const one_g = one_dry_g(ctx, feed, part);
    const for_one = (n: number) =>
      other && nearest_parts(other, div(n * one_g * 1000, ctx.feed(instead)!.dm_pm!));
    const taken = { feed: instead ? "" : feed, same: !instead, one_g: eaten_of(barn, subject, one_g) };
    const changes = (n: number) => changes_of(barn, { heads, slots, ...taken, over_d }, -n);
    const lines = (n: number) =>
      (changes(n) ?? []).flatMap((at, i) => {
        const place = { subject, to, slot: slots[i]! };
        const more = at.map(([on, parts]): Change => [on, for_one(-parts) ?? 0]).filter(([, parts]) => parts);
        if (!at.length) return [];
        const less = line_of(ctx, { ...place, feed }, part, at);
        return other && more.length ? [less, line_of(ctx, { ...place, feed: instead }, other, more)] : [less];
      });
    const most = possible(nearest_parts(part, g), changes);
    return [{ code, to, subject, feed: instead || feed, most, one_g, lines }];
  });
}

/** Less of all the forage that is given, in the measure in which it is: that is no change of it. */
export function less_of_all(barn: Barn, code: ActCode, subject: string, given: [Given, ...Given[]]): Rung[] {
  const [{ ctx, start }, [main]] = [barn, given];
  const to = target(barn, subject);
  const even = heads_at(barn, subject) > 1 ? even_meals : over_meals;
  const fewer = ([feed, slots, g]: Given, part: Part, taken_g: number): ActLine[] =>
    even(-Math.min(nearest_parts(part, g), nearest_parts(part, taken_g)), slots.length).flatMap((n, i) =>
      n ? [line_of(ctx, { subject, to, slot: slots[i]!, feed }, part, [[start, n]])] : [],
    );
  return parts_of(ctx, main[0]).map((part): Rung => {
    const lines = (n: number) =>
      given.flatMap((each) => {
        const own = each === main ? part : parts_of(ctx, each[0]).at(-1);
        return own ? fewer(each, own, div(grams_of(part, n) * each[2], Math.max(1, main[2]))) : [];
      });
    return { code, to, subject, feed: main[0], most: nearest_parts(part, main[2]), lines };
  });
}

/** More of a concentrate in the farm's steps and days. */
export function more_grain(barn: Barn, code: ActCode, feed: string, slots: string[]): Rung[] {
  const { ctx, id } = barn;
  const { limits } = ctx.outlooks[id]!;
  const most_g = milk_on(ctx, id, ctx.day) > 0 ? limits.milk_grain_day_g : limits.grain_day_g;
  const room_g = most_g - eaten_on(ctx, id, barn.start, true).day_g;
  return parts_of(ctx, feed).flatMap((part) => {
    const each = parts_a_step(ctx, id, feed, part);
    const most = each ? div(room_g * each, limits.step_g) : 0;
    const lines = (n: number) => {
      const changes = stepped(over_meals(n, slots.length), each, next_raise_on(ctx, id), limits.step_days);
      return grain_lines(barn, feed, slots, part, changes);
    };
    return most < 1 ? [] : [{ code, to: "doe" as const, subject: id, feed, most, lines }];
  });
}

/** Less of a concentrate, a step or a quarter of it each so many days. */
export function less_grain(barn: Barn, code: ActCode, [feed, slots, g]: Given, every_d: number): Rung[] {
  const { ctx, id, start } = barn;
  return parts_of(ctx, feed).map((part) => {
    const step = parts_a_step(ctx, id, feed, part);
    const lines = (n: number) => {
      const each = Math.max(1, step, every_d > 1 ? 0 : div(n + ACT_SWITCH_PARTS - 1, ACT_SWITCH_PARTS));
      const changes = stepped(over_meals(-n, slots.length), each, start, every_d);
      return grain_lines(barn, feed, slots, part, changes);
    };
    return { code, to: "doe", subject: id, feed, most: nearest_parts(part, g), lines };
  });
}

function grain_lines(
  { ctx, id }: Barn, feed: string, slots: string[], part: Part, changes: ReturnType<typeof stepped>,
): ActLine[] {
  return changes.flatMap((at, i) =>
    at.length ? [line_of(ctx, { subject: id, to: "doe", slot: slots[i]!, feed }, part, at)] : [],
  );
}

/** Parts of grain that one step holds, a gram lost in rounding at each meal; 0 where a single one is more. */
export function parts_a_step(ctx: Context, id: string, feed: string, part: Part): number {
  const { step_g } = ctx.outlooks[id]!.limits;
  const fits = (n: number) => grain_g(ctx, [[feed, grams_of(part, n) + 1]]) <= step_g;
  let n = 0;
  while (n < ACT_STEP_FINEST && fits(n + 1)) n += 1;
  return n;
}

/** Tomorrow, or once her last raise has stood the farm's days. */
export function next_raise_on(ctx: Context, id: string): string {
  const { step_days } = ctx.outlooks[id]!.limits;
  const day_g = (k: number) => eaten_on(ctx, id, shift(ctx.day, k), k >= 0).day_g;
  for (let back = 0; back < Math.min(step_days, GRAIN_LOOK_D); back++) {
    if (day_g(-back) > day_g(-back - 1)) return shift(ctx.day, step_days - back);
  }
  return shift(ctx.day, 1);
}
