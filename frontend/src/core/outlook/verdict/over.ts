import { div } from "../../base/ints.ts";
import { feeder_says } from "../balance/at_feeder.ts";
import { part_of, permille } from "../balance/balance.ts";
import { LEGUME_IN_MIXED_PM } from "../../tables/numbers.ts";
import { gestation_on, slot_for } from "../ground/branches.ts";
import type { Context } from "../ground/context.ts";
import { LANE } from "../../tables/codes.ts";
import { is_forage, is_grain } from "../ground/feed_classes.ts";
import { below_appetite } from "./feeder.ts";
import { held_score, held_through, milk_on } from "../feeding/needs.ts";
import type { BranchDay, LastScore, Sums } from "../ground/shapes.ts";
import { stage } from "../feeding/stages.ts";
import { band_about, centred, drawn_in } from "../balance/surety.ts";

/** Over on energy: never by the sums alone. Hay she holds her condition on is hers to eat. */
export type OverBy = "fat" | "rising" | "rich" | "";

/** Above need by more than is level, and what bears it out; "" where she is not over, or nothing does. */
export function over_by(ctx: Context, id: string, sums: Sums, pm: number, on: string): OverBy {
  const slot = slot_for(ctx, id, on);
  if (slot === null || centred(ctx, pm) <= over_from(ctx, id, slot)) return "";
  const by = over_witness(ctx, id, sums, on);
  if (by === "" || by === "fat") return by;
  // nobody eats to the need of her first weeks: there the sums read high
  if (stage(ctx, id, on) === "fresh") return "";
  // of her feed, or of two scores as sure as a hand is, only what most of the band bears out
  const clear_pm = ctx.rule_or_ours(milk_on(ctx, id, on) ? "over_clear_milk_pm" : "over_clear_pm");
  return drawn_in(band_about(ctx, sums, pm), clear_pm)[0] > 1000 ? by : "";
}

/** What of her or of her feed says that she is over, whatever the sums say. */
export function over_witness(ctx: Context, id: string, sums: Sums, on: string): OverBy {
  const slot = slot_for(ctx, id, on);
  if (slot === null) return "";
  const score = held_score(ctx, id);
  if (score && score.x100 < slot[0].band_lo[slot[1]]!) return "";
  if (score && score.x100 >= ctx.rule("score_fat_x100")) return "fat";
  // who cleans up time after time would leave some of too much
  if (feeder_says(ctx, id, ctx.day) === "clean") return "";
  if (score && rising(ctx, slot, score)) return "rising";
  // what she still grows by is the least known of all: a growing doe's feed is too much once a hand says so
  return slot[0].lane[slot[1]] !== LANE.first_freshener && rich(ctx, sums, slot) ? "rich" : "";
}

/** Whether the late day is so near that her need climbs past it before plainer hay would show. */
export function over_is_past(ctx: Context, id: string, on: string): boolean {
  return gestation_on(ctx, id, on) >= ctx.rule("late_day") - ctx.rule_or_ours("over_ends_d");
}

/**
 * Grain, legume beyond what the rule plan gives her, or a feed of unknown energy, that she could go without and still
 * not be under need. Where the feeder is open she eats hay in place of her grain.
 */
function rich(ctx: Context, sums: Sums, slot: BranchDay): boolean {
  const { got, extra, need } = sums;
  const { grain_g, grain_kj, forage_g, forage_kj, legume_g, legume_kj } = parts(ctx, sums);
  const least = ctx.rule_or_ours("over_rich_pm");
  const without = (kj: number) => centred(ctx, permille(got.me - kj, need.me)) >= 1000;
  const hay_kj = forage_g && !below_appetite(ctx, sums) ? div(forage_kj * grain_g, forage_g) : 0;
  if ((grain_kj + extra.me) * 1000 >= need.me * least && without(Math.max(0, grain_kj - hay_kj))) return true;
  const spare_g = legume_g - div(forage_g * slot[0].plan_legume_pm[slot[1]]!, 1000);
  if (spare_g <= 0 || spare_g * 1000 < forage_g * least) return false;
  const richer_kj = legume_kj - div(legume_g * ctx.rule_or_ours("plan_grass_kj_kg"), 1000);
  return without(Math.max(0, div(richer_kj * spare_g, legume_g)));
}

/** Dry matter and energy of her grain, her forage, and the legume in it. */
function parts(ctx: Context, { dm_by }: Sums): Record<`${"grain" | "forage" | "legume"}_${"g" | "kj"}`, number> {
  const found = { grain_g: 0, grain_kj: 0, forage_g: 0, forage_kj: 0, legume_g: 0, legume_kj: 0 };
  for (const [feed, g] of Object.entries(dm_by)) {
    const of = is_grain(ctx.feed(feed)) ? "grain" : is_forage(ctx.feed(feed)) ? "forage" : null;
    if (of === null) continue;
    found[`${of}_g`] += g;
    found[`${of}_kj`] += part_of(ctx, feed, "me", g);
    const legume = legume_part(ctx, feed, g);
    found.legume_g += legume;
    found.legume_kj += part_of(ctx, feed, "me", legume);
  }
  return found;
}

/** Grams of legume in so much of a feed. */
function legume_part(ctx: Context, feed: string, g: number): number {
  const known = ctx.feed(feed)?.class;
  return known === "legume" ? g : known === "mixed" ? div(g * LEGUME_IN_MIXED_PM, 1000) : 0;
}

/** Above which ratio she is over: later at the foot of her band or where she held. */
function over_from(ctx: Context, id: string, [branch, i]: BranchDay): number {
  const score = held_score(ctx, id);
  const near_top = branch.band_hi[i]! - ctx.rule("band_slack_x100");
  const holds = score && (score.x100 <= branch.band_lo[i]! || held_through(ctx, id, near_top));
  return 1000 + ctx.rule(holds ? "over_hold_pm" : "level_pm");
}

/** Half a point and no longer thin, or any rise to the top of her band: within it a hand errs by as much. */
function rising(ctx: Context, [branch, i]: BranchDay, { x100, fell }: LastScore): boolean {
  const [low, high] = [branch.band_lo[i]!, branch.band_hi[i]!];
  if (fell <= -ctx.rule("score_fell_x100")) return x100 * 2 >= low + high;
  return fell <= -ctx.rule("band_slack_x100") && x100 >= high;
}
