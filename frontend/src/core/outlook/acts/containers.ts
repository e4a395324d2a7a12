import { div } from "../../base/ints.ts";
import { is_forage } from "../ground/feed_classes.ts";
import { fresh, measures_of, QUARTERS } from "../feeding/measures.ts";
import type { Context } from "../ground/context.ts";
import { ACT_GRAM_G } from "../../tables/numbers.ts";

/** The smallest part of what a feed is given in, so many of which make one container: a quarter scoop, half a flake. */
export interface Part {
  container_g: number;
  parts: number;
  by: "scoop" | "flake" | "g";
}

const HALVES = 2;

/**
 * Ways to measure a feed out, her container first, the bare scale last; none while its only weights are old, for then
 * nobody knows what a scoop of it holds and a raise waits.
 */
export function parts_of(ctx: Context, feed: string): Part[] {
  const measures = measures_of(ctx.view, feed, ctx.day, ctx.rule_or_ours("weigh_again_d"));
  const standing = measures.filter(fresh);
  if (measures.length && !standing.length) return [];
  const of = standing[0];
  const { class: kind, l_g } = ctx.feed(feed)!;
  const by_scale = ACT_GRAM_G[is_forage({ class: kind }) && !l_g ? "forage" : "other"];
  const scale: Part = { container_g: by_scale, parts: 1, by: "g" };
  if (!of) return [scale];
  const by = of.of === "scoop" ? "scoop" : "flake";
  return [{ container_g: of.g, parts: by === "scoop" ? QUARTERS : HALVES, by }, scale];
}

/** Grams in so many parts. */
export function grams_of({ container_g, parts }: Part, n: number): number {
  return div(2 * n * container_g + parts, 2 * parts);
}

/** How many parts come nearest to an amount. */
export function nearest_parts({ container_g, parts }: Part, g: number): number {
  return div(2 * g * parts + container_g, 2 * container_g);
}

/** Whole parts in an amount that is none: what goes up starts from the fewer, so that its first step is no larger. */
export function whole_parts({ container_g, parts }: Part, g: number, up: boolean): number {
  return up ? div(g * parts + container_g - 1, container_g) : div(g * parts, container_g);
}
