import { slot_for } from "../ground/branches.ts";
import { PHASE } from "../../tables/codes.ts";
import { shift, type Context } from "../ground/context.ts";
import { milk_on } from "./needs.ts";
import { WEEK_D } from "../../tables/numbers.ts";

/** Fresh, in milk or neither; empty outside what was compiled. */
export function stage(ctx: Context, id: string, on: string): "fresh" | "milk" | "dry" | "" {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return "";
  return slot[0].phase[slot[1]] === PHASE.fresh ? "fresh" : milk_on(ctx, id, on) ? "milk" : "dry";
}

/** Whether she was so a week ago as she is today. */
export function same_stage(ctx: Context, id: string): boolean {
  return stage(ctx, id, ctx.day) === stage(ctx, id, shift(ctx.day, -WEEK_D));
}
