import { rest } from "../../core/base/env.ts";
import type { Context } from "../../core/outlook/ground/context.ts";
import { compared } from "../../core/outlook/whole/altered.ts";
import { day } from "./day.svelte.ts";
import { untouched, waits } from "./hands.ts";
import type { DoeResult } from "./results.ts";
import { session } from "./session.svelte.ts";

/** Longer than this nothing is worked without letting a tap and a frame through. */
const SLICE_MS = 6;

export type Pair = [was: DoeResult, would: DoeResult];

/**
 * Every doe as she is today and as she would be, worked between taps. Null where somebody no longer waits for it, or
 * where this app has not got a number it needs.
 */
export async function what_if(alter: (ctx: Context) => Context, still: () => boolean): Promise<Pair[] | null> {
  const evaluation = session.farm!.evaluation(day.today);
  const work = compared(alter(evaluation.ctx), (unit) => evaluation.unit(unit));
  try {
    let step = work.next();
    while (!step.done) {
      await rest();
      await untouched();
      if (!still()) return null;
      const ends = performance.now() + SLICE_MS;
      while (!step.done && performance.now() < ends && !waits()) step = work.next();
    }
    return step.value;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
