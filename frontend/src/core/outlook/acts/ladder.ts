import { at_once } from "../../base/at_once.ts";
import { div, mod, sum } from "../../base/ints.ts";
import { day_sums, eaten_on, late_on } from "../balance/balance.ts";
import { shift, SLOTS } from "../ground/context.ts";
import { cleaned } from "../verdict/feeder.ts";
import { appetite_on, milk_on } from "../feeding/needs.ts";
import { dry_g } from "../feeding/sharing.ts";
import { ACT_FEEDS, ACT_FOLLOWS_D, ACT_FULL_PM, ACT_HOLDS_D, AHEAD_D } from "../../tables/numbers.ts";
import { alone, best, bowl_of, class_of, grain_of, hay_of, of_class, worth, type Barn, type Given } from "./barn.ts";
import { fewest } from "./fewest.ts";
import { hay_for_part } from "./exchange.ts";
import { ahead_of } from "./forward.ts";
import { eaten_by_all } from "./on_hand.ts";
import { on_top } from "./on_top.ts";
import { less_grain, less_hay, less_of_all, more_grain, more_hay, more_of_all, type Rung } from "./rungs.ts";
import type { ActCode, ActLine } from "./shapes.ts";

/** Fill the feeder, her own bowl, better hay, legume, a grain step; last one of them on top of another. */
export function up(barn: Barn): Rung[] {
  const one = [...fill(barn), ...bowl(barn), ...better(barn), ...legume(barn), ...concentrate(barn)];
  return [...one, ...(alone(barn) ? two(barn) : both(barn))];
}

/** Grain first, then legume, then richness, then a little less hay, never below what her gut needs. */
export function down(barn: Barn): Rung[] {
  const grain = grain_of(barn).map((given) => less_grain(barn, "grain_down", given, 1));
  const no_grain = () => grain.flatMap(([whole]) => (whole ? whole.lines(whole.most) : []));
  const then = [...legume_down(barn), ...plainer(barn), ...less(barn)];
  const after = then.map((rung): Rung => ({ ...rung, lines: (n) => [...no_grain(), ...rung.lines(n)] }));
  return [...grain.flat(), ...hay_for_part(barn), ...after];
}

/** Those who stand at the feeder, or she alone. */
function subjects({ id, unit }: Barn): string[] {
  return unit === id ? [id] : [id, unit];
}

function fill(barn: Barn): Rung[] {
  const { id, unit, hand } = barn;
  const shared = unit === id ? [] : hay_of(barn, unit);
  const [at, given] = shared.length ? [unit, shared] : [id, hay_of(barn, id)];
  const [main, ...others] = given.filter(([feed]) => hand.includes(feed));
  if (!main || !hungry(barn, at) || !cleaned(barn.ctx, id)) return [];
  return more_of_all(barn, "fill_feeder", at, [main, ...others]);
}

/** Whether they could eat more than they are given. */
export function hungry({ ctx, id, unit, start }: Barn, at: string): boolean {
  const ids = at === id ? [id] : ctx.pen_mates(unit, start);
  const sums = ids.flatMap((mate) => day_sums(ctx, mate, start, true) ?? []);
  const [eaten, would] = [sum(sums.map(({ dm }) => dm)), sum(sums.map(({ appetite_g }) => appetite_g))];
  return eaten * 1000 < would * ACT_FULL_PM;
}

function bowl(barn: Barn): Rung[] {
  const [main] = alone(barn) ? [] : hay_of(barn, barn.unit);
  return main && barn.hand.includes(main[0]) ? more_hay(barn, "own_bowl", barn.id, main[0], barn.meals) : [];
}

function better(barn: Barn): Rung[] {
  const least = Math.min(...main_hay(barn).map(([feed]) => worth(barn, feed)));
  const feeds = of_class(barn, "grass", "mixed").filter((feed) => worth(barn, feed) > (isFinite(least) ? least : 0));
  return best(barn, feeds).flatMap((feed) => richer(barn, "better_hay", feed));
}

/** In her own bowl, where she eats it first; at a feeder of her own beside what she has, or in its place. */
function richer(barn: Barn, code: ActCode, feed: string): Rung[] {
  const at = bowl_of(barn);
  const main = hay_of(barn, at).find(([held]) => worth(barn, held) < worth(barn, feed));
  const beside = !alone(barn) || !main || hungry(barn, at) ? more_hay(barn, code, at, feed, barn.meals) : [];
  // for its calcium in the place of another too: beside it she might get fat
  if (!alone(barn) || !main || (beside.length && barn.of !== "ca")) return beside;
  const slower = barn.of === "ca" && late_on(barn.ctx, barn.id, barn.start);
  // what does by kidding would be too much of it now
  const followed = slower ? less_hay(barn, code, at, main, feed, ACT_FOLLOWS_D) : [];
  return [...beside, ...less_hay(barn, code, at, main, feed), ...followed];
}

function main_hay(barn: Barn): Given[] {
  return subjects(barn).flatMap((subject) => hay_of(barn, subject)).sort((a, b) => b[2] - a[2]);
}

function legume(barn: Barn): Rung[] {
  return best(barn, of_class(barn, "legume")).flatMap((feed) => richer(barn, "legume_up", feed));
}

function concentrate(barn: Barn): Rung[] {
  const [energy, had] = [barn.of === "me", grain_of(barn)];
  const feeds = energy ? of_class(barn, "grain") : of_class(barn, "protein", "byproduct", "grain");
  const slots = had.length ? [...new Set(had.flatMap(([, slots]) => slots))] : barn.meals;
  const code = energy ? "grain_up" : "protein_up";
  // a milker's meals are full: at one she gets none at yet
  const [free] = milk_on(barn.ctx, barn.id, barn.ctx.day) > 0 ? SLOTS.filter((slot) => !slots.includes(slot)) : [];
  return best(barn, feeds).flatMap((feed) => [
    ...more_grain(barn, code, feed, slots), ...(free ? more_grain(barn, code, feed, [free]) : []),
  ]);
}

/** The feeder filled, and then better hay in its place, or grain; and grain on top of the best hay there is. */
function two(barn: Barn): Rung[] {
  const full = enough_hay(barn);
  const with_grain = (first: ActLine[]) =>
    barn.of === "ca" ? [] : on_top(barn, first, concentrate).map((rung): Rung => ({ ...rung, code: "hay_and_grain" }));
  const hays = (at: Barn) => [...better(at), ...legume(at)];
  const best_hay = full.length ? on_top(barn, full, hays) : hays(barn);
  const richest = best_hay.filter((rung) => rung.most > 0).sort((a, b) => worth(barn, b.feed) - worth(barn, a.feed));
  const all = richest.map((rung) => rung.lines(rung.most));
  // in the place of what she has, and beside it
  const tops = [false, true].flatMap((beside) => all.filter((lines) => lines.every(adds) === beside).slice(0, 1));
  return [...(full.length ? [...best_hay, ...with_grain(full)] : []), ...tops.flatMap(with_grain)];
}

const adds = ({ from_g, steps }: ActLine): boolean => steps.at(-1)![1] >= from_g;

/** So much more of her hay that she finds all she can eat. */
function enough_hay(barn: Barn): ActLine[] {
  const rung = fill(barn).find(({ most }) => most > 0);
  const full = (n: number) => {
    const { planned: ctx } = ahead_of(barn.ctx, barn.unit, rung!.lines(n));
    return [0, AHEAD_D].every((days) => !hungry({ ...barn, ctx, start: shift(barn.start, days) }, barn.unit));
  };
  return rung ? rung.lines(at_once(fewest(rung.most, full))) : [];
}

/** As much of the best hay, or of legume, as she will still eat beside so much grain. */
function both(barn: Barn): Rung[] {
  const liked = (...classes: string[]) =>
    of_class(barn, ...classes)
      .filter((feed) => eaten_by_all(barn.ctx, [barn.id], feed))
      .sort((a, b) => worth(barn, b) - worth(barn, a))
      .slice(0, 1);
  const hays = [...new Set([...liked("grass", "mixed", "legume"), ...liked("legume")])];
  const bowls = hays.flatMap((hay) => more_hay(barn, "hay_and_grain", bowl_of(barn), hay, barn.meals));
  return concentrate(barn).slice(0, 1).flatMap((grain) => bowls.map((bowl) => beside(barn, bowl, grain)));
}

function beside(barn: Barn, bowl: Rung, grain: Rung): Rung {
  const lines = (n: number) => {
    const more = grain.lines(n);
    const taken = sum(more.map(({ feed, from_g, steps }) => dry_g(barn.ctx, feed, steps.at(-1)![1] - from_g)));
    const room = least_appetite(barn) - own_dry(barn) - taken;
    const parts = bowl.one_g ? div(Math.max(0, room), bowl.one_g) : 0;
    const even = parts - mod(parts, barn.meals.length);
    return even ? [...bowl.lines(even), ...more] : more;
  };
  return { ...grain, code: "hay_and_grain", lines };
}

function own_dry({ ctx, id, start }: Barn): number {
  return sum(Object.values(eaten_on(ctx, id, start, true).own));
}

/** Her appetite falls before kidding: what she leaves then was never hers. */
function least_appetite({ ctx, id, start }: Barn): number {
  const days = Array.from({ length: ACT_HOLDS_D }, (_, k) => shift(start, k));
  const ahead = days.map((on) => appetite_on(ctx, id, on)).filter((g) => g > 0);
  return Math.min(...ahead);
}

export function legume_down(barn: Barn): Rung[] {
  const plain = best(barn, of_class(barn, "grass", "mixed"), true)[0] ?? "";
  return subjects(barn).flatMap((subject) =>
    hay_of(barn, subject)
      .filter(([feed]) => class_of(barn, feed) === "legume")
      .flatMap((given) => [
        ...less_hay(barn, "legume_down", subject, given), ...less_hay(barn, "legume_down", subject, given, plain),
      ]),
  );
}

/** Plainer hay first in her own bowl, so that she finds less room for the rich; then in the place of what is given. */
export function plainer(barn: Barn): Rung[] {
  const richest = Math.max(0, ...main_hay(barn).map(([feed]) => worth(barn, feed)));
  const feeds = best(barn, of_class(barn, "grass", "mixed").filter((feed) => worth(barn, feed) < richest), true);
  return feeds.slice(0, ACT_FEEDS).flatMap((feed) => [
    ...(alone(barn) ? [] : more_hay(barn, "plainer", barn.id, feed, barn.meals)),
    ...subjects(barn).flatMap((subject) =>
      hay_of(barn, subject)
        .filter(([held]) => worth(barn, held) > worth(barn, feed))
        .flatMap((given) => less_hay(barn, "plainer", subject, given, feed)),
    ),
  ]);
}

/** All of her hay a little less; of a mix the one she can best go without last. */
function less(barn: Barn): Rung[] {
  return subjects(barn).flatMap((subject) => {
    const [main, ...others] = hay_of(barn, subject);
    if (!main) return [];
    if (others.length) return less_of_all(barn, "hay_down", subject, [main, ...others]);
    return class_of(barn, main[0]) === "legume" ? [] : less_hay(barn, "hay_down", subject, main);
  });
}
