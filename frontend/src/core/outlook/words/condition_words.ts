import { enough_days, window } from "../balance/balance.ts";
import { days_between, type Context } from "../ground/context.ts";
import { is_grain, is_legume } from "../ground/feed_classes.ts";
import { her_state, legume_of, thin_late, type HerState } from "../balance/her_state.ts";
import { held_score, last_score } from "../feeding/needs.ts";
import type { DoeResult, Said } from "../ground/shapes.ts";
import { past_slimming } from "../verdict/score_awaited.ts";
import { SHORT_SAID_AHEAD_D, WEEK_D } from "../../tables/numbers.ts";

/** What her condition asks for where her energy does not already say it. */

/** Thin near kidding goes before every excess. */
export function thin_late_word(ctx: Context, id: string, { band, awaited }: DoeResult): Said | null {
  if (!thin_late(ctx, id) || awaited) return null;
  const args = { x100: last_score(ctx, id)!.x100, low: band[0]!, legume: legume_of(ctx, id) };
  return { code: "condition_thin_late", args };
}

export function condition_word(ctx: Context, id: string, result: DoeResult): Said | null {
  const score = held_score(ctx, id);
  if (score === null || result.band.length === 0) return null;
  const [low, high] = result.band as [number, number];
  const { x100 } = score;
  const state = her_state(ctx, id);
  const thin = x100 <= low - ctx.rule("band_slack_x100");
  // on her way back already: her next score will tell
  if (result.awaited) return null;
  if (thin) return { code: "condition_thin", args: { x100, low, state } };
  // fresh she lives off what she has, and nobody slims her
  if (x100 < high + ctx.rule("band_slack_x100") || state === "fresh") return null;
  const args = { x100, high, late: past_slimming(ctx, id, x100), first: first_to_go(ctx, id, state), state };
  return { code: "condition_fat", args };
}

/** She loses flesh though the week gave her what she needs: something takes it. Feed that is to fall goes first. */
export function thinning_word(ctx: Context, id: string, { lines, band }: DoeResult): Said | null {
  const [score, { st, pm, ahead }] = [held_score(ctx, id), lines["me"]!];
  if (score === null) return null;
  if (ahead?.st === "short" && days_between(ctx.day, ahead.on) <= SHORT_SAID_AHEAD_D) return null;
  const fed = pm >= 1000 && (st === "level" || st === "over");
  const { x100, fell } = score;
  const thins = fed && fell >= ctx.rule("score_fell_x100") && her_state(ctx, id) !== "fresh";
  // a heavy doe that comes down into her band does as she should
  return thins && x100 < (band[1] ?? 0) ? { code: "thin_though_fed", args: { x100, fell } } : null;
}

/** Slimming takes grain first, then legume, then richness; never long hay. */
function first_to_go(ctx: Context, id: string, state: HerState): "grain" | "legume" | "rich" | "" {
  const week = window(ctx, id, WEEK_D);
  if (!enough_days(ctx, week)) return "";
  const eaten = Object.keys(week.dm_by).map((feed) => ctx.feed(feed));
  if (eaten.some(is_grain)) return "grain";
  // milk needs the calcium of her legume
  return eaten.some(is_legume) && state !== "milk" && state !== "fresh" ? "legume" : "rich";
}
