import { div } from "../../base/ints.ts";
import { eaten_on } from "../balance.ts";
import { shift, type Context } from "../context.ts";
import { grain_g } from "../sharing.ts";
import { grams_of, type Part } from "./containers.ts";
import type { Change } from "./steps.ts";
import { GRAIN_LOOK_D } from "../../tables/numbers.ts";

/** Parts of grain that one step holds; 0 where a single one is more than the farm's step. */
export function parts_a_step(ctx: Context, id: string, feed: string, part: Part): number {
  const one_g = grain_g(ctx, [[feed, grams_of(part, 1)]]);
  return one_g > 0 ? div(ctx.outlooks[id]!.limits.step_g, one_g) : 0;
}

/** In the farm's steps and days, each step's parts going from meal to meal; by meal. */
export function grain_changes(
  ctx: Context, id: string, n: number, meals: number, each: number, start: string,
): Change[][] {
  const [changes, so_far] = [Array.from({ length: meals }, (): Change[] => []), new Array<number>(meals).fill(0)];
  const { step_days } = ctx.outlooks[id]!.limits;
  for (let done = 0, step = 0; done < Math.abs(n); step++) {
    const on = shift(start, step * step_days);
    const moved = new Set<number>();
    for (let i = 0; i < each && done < Math.abs(n); i++, done++) {
      so_far[done % meals]! += Math.sign(n);
      moved.add(done % meals);
    }
    for (const meal of moved) changes[meal]!.push([on, so_far[meal]!]);
  }
  return changes;
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
