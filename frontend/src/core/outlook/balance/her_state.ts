import { late_on, window } from "./balance.ts";
import { gestation_on, slot_for } from "../ground/branches.ts";
import type { Context } from "../ground/context.ts";
import { is_legume } from "../ground/feed_classes.ts";
import { held_score } from "../feeding/needs.ts";
import { stage } from "../feeding/stages.ts";
import { LANE } from "../../tables/codes.ts";
import { WEEK_D } from "../../tables/numbers.ts";

/** What decides how a thing is said to whoever feeds her: her state, and whether there is legume to speak of. */
export type HerState = "fresh" | "milk" | "late" | "growing" | "dry" | "open";
export type Legume = "fed" | "hand" | "none";

export function her_state(ctx: Context, id: string): HerState {
  const [now, gest] = [stage(ctx, id, ctx.day), gestation_on(ctx, id, ctx.day)];
  if (gest >= ctx.rule("late_day")) return "late";
  if (now === "fresh" || now === "milk") return now;
  const slot = slot_for(ctx, id, ctx.day);
  if (slot !== null && slot[0].lane[slot[1]] === LANE.first_freshener) return "growing";
  return gest >= 0 ? "dry" : "open";
}

/** In milk, late or growing: what she lacks of protein or minerals is missed now. */
export function draws(state: HerState): boolean {
  return state !== "dry" && state !== "open";
}

/** She ate some within the week, or the farm has some, or none is written down. */
export function legume_of(ctx: Context, id: string): Legume {
  const eaten = window(ctx, id, WEEK_D).dm_by;
  if (Object.keys(eaten).some((feed) => is_legume(ctx.feed(feed)))) return "fed";
  const { lots, feeds, rations } = ctx.view;
  const kept = [...Object.keys(lots), ...Object.keys(feeds), ...Object.values(rations).map(({ feed }) => feed)];
  return kept.some((feed) => is_legume(ctx.feed(feed))) ? "hand" : "none";
}

/** Late and under her band by a score that still counts: nothing rich is taken from her. */
export function thin_late(ctx: Context, id: string): boolean {
  const [score, slot] = [held_score(ctx, id), slot_for(ctx, id, ctx.day)];
  if (score === null || slot === null) return false;
  const late = late_on(ctx, id, ctx.day);
  return late && score.x100 < slot[0].band_lo[slot[1]]!;
}

/** Who shares her feeder, herself among them; herself alone where she stands in no pen. */
export function feeder_mates(ctx: Context, id: string): string[] {
  const { pen } = ctx.doe(id);
  return pen ? ctx.pen_mates(pen, ctx.day).filter((mate) => ctx.here(mate)) : [id];
}
