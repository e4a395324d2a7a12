import {
  last_bag, flake_of, fresh, measures_of, refs, scooped, scoops_for, type Measure,
} from "../../core/outlook/feeding/measures.ts";
import { RULES, type RuleName } from "../../core/tables/rules.ts";
import { flakes, inQuarters } from "../words/format.ts";
import { feedInfo, nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { record } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { t } from "../words/text.ts";

/** The farm's own choice at once, before the server has put it into the book. */
export function ruleOf(name: RuleName): number {
  const [standard, low, high] = RULES[name];
  const own = day.view.rules.f[name];
  return typeof own === "number" && own >= low && own <= high ? own : standard;
}
export const keep_d = () => ruleOf("weigh_again_d");

/** Feeds that come in bags and go out by the scoop; of these a weight is asked for. */
const BAGGED = ["grain", "protein", "byproduct", "fat"];
export const infoOf = (feed: string) => feedInfo(day.view, day.feeds, feed);
/** Pelleted forage goes out by the scoop too: what has a weight by volume is poured. */
export const isBagged = (feed: string) => BAGGED.includes(infoOf(feed).class) || Boolean(day.feeds[feed]?.l_g);

export const scoopsFor = (feed: string): Measure[] => scoops_for(day.view, feed, day.today, keep_d());
export const flakeOf = (lot: string): Measure => flake_of(day.view, lot, day.today, keep_d());
export const labelOf = (measure: Measure): string =>
  measure.of === "scoop" ? nameOf(day.view.scoops[measure.id]) : t(`measure.${measure.of}`);

/** Every weight an amount of this feed may be given by. */
export const measuresOf = (feed: string): Measure[] => measures_of(day.view, feed, day.today, keep_d());

/**
 * The weight that has to be taken again before this feed may be raised; null where a fresh one stands, or none was ever
 * made.
 */
export function oldWeight(feed: string): Measure | null {
  const measures = measuresOf(feed);
  return measures.some(fresh) ? null : (measures[0] ?? null);
}

export interface InHand {
  /** What the hand measures: "1¼ × Red scoop", "2 flakes"; "" where only grams are known. */
  first: string;
  /** How far that is from what is meant: "12 g over". */
  off: string;
  old: boolean;
  /** By which scoop, and how many of it: "1¼", of which there are 1.25; "" where it is no scoop. */
  scoop: string;
  count: string;
  n: number;
  /** No quarter of a flake comes near: without its weight 700 g and 850 g would read alike. */
  rough: boolean;
}

const NOT_POURED = { off: "", scoop: "", count: "", n: 0, rough: false };
/** A quarter that lies further off than this share of a flake is told with its weight. */
const NEAR_PM = 50;

function inFlakes(g: number, { g: flake_g, old }: Measure): InHand {
  const off = Math.abs(g - (Math.round((4 * g) / flake_g) * flake_g) / 4);
  return { ...NOT_POURED, first: flakes(g, flake_g), old: old !== "", rough: off * 1000 > flake_g * NEAR_PM };
}

export function inHand(feed: string, g: number): InHand {
  const flake = flakeOf(feed);
  // less than half a quarter is nothing in the hand, and something on the scale
  if (flake.g && 8 * g < flake.g) return { ...NOT_POURED, first: "", old: false };
  if (flake.g) return inFlakes(g, flake);
  const found = scooped(scoopsFor(feed), g);
  if (!found) return { ...NOT_POURED, first: "", old: false };
  const { measure, quarters, off_g } = found;
  const count = inQuarters(quarters);
  const n = quarters / 4;
  const first = t("measure.scoops", { count, n, name: labelOf(measure) });
  return { ...NOT_POURED, first, off: offText(off_g), old: measure.old !== "", scoop: measure.id, count, n };
}

/**
 * An amount in one sentence: by the hand first, the weight behind it. What is still to come is never told by an old
 * weight.
 */
export function spokenAmount(feed: string, g: number): string {
  const { first, old } = inHand(feed, g);
  return first && !old ? t("measure.spoken", { hand: first, g: day.amount(g) }) : day.amount(g);
}

/** A change from one amount to another: where the hand would measure both alike, only their weights tell them apart. */
export function spokenStep(feed: string, now: number, then: number): [now: string, then: string] {
  const alike = inHand(feed, now).first === inHand(feed, then).first;
  return alike ? [day.amount(now), day.amount(then)] : [spokenAmount(feed, now), spokenAmount(feed, then)];
}

function offText(off_g: number): string {
  return off_g ? t(off_g > 0 ? "measure.over" : "measure.under", { g: day.amount(Math.abs(off_g)) }) : "";
}

/** Why a weight no longer stands, in words. */
export function whyOld(measure: Measure, feed: string): string {
  const bag = last_bag(day.view, refs(day.view, feed));
  return t(`measure.old.${measure.old}`, { on: bag ? day.spoken(bag.on) : "", days: keep_d() });
}

export function openBag(feed: string): void {
  record("new_bag", session.farm!.farmId, { feed });
}
