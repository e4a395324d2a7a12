import { is_forage } from "../../core/outlook/ground/feed_classes.ts";
import { SLOTS } from "../../core/tables/entries.ts";
import type { ActLine } from "../../core/outlook/acts/shapes.ts";
import type { DryPlan, FeedPlan } from "../../core/outlook/plans/shapes.ts";
import { DRY_FELT_D } from "../../core/tables/numbers.ts";
import { and } from "../acts/words.ts";
import { coming, running, standing_g } from "../doe/plan_rows.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf, shortly } from "../model/herd.ts";
import { infoOf, spokenAmount } from "../sentences/amounts.ts";
import type { Doe } from "../model/shapes.ts";
import { addDays } from "../words/format.ts";
import { t } from "../words/text.ts";

/** A day of a plan and what is done on it. */
export interface Row {
  on: string;
  texts: string[];
}

/** In the order of days; on one day in the order in which they are given. */
export function byDay(all: [on: string, text: string][]): Row[] {
  const found = new Map<string, string[]>();
  for (const [on, text] of all) found.set(on, [...(found.get(on) ?? []), text]);
  return [...found].sort(([a], [b]) => (a < b ? -1 : 1)).map(([on, texts]) => ({ on, texts }));
}

interface Group {
  on: string;
  feed: string;
  /** As it is spoken of. */
  own: string;
  g: number;
  up: boolean;
  slots: string[];
}

/** Feed and amount in her containers; meals with the same amount together. */
export function feedRows(lines: ActLine[]): [on: string, text: string][] {
  const groups = new Map<string, Group>();
  for (const { subject, to, feed, slot, from_g, steps } of lines) {
    steps.forEach(([on, g], k) => {
      const key = JSON.stringify([on, to, feed, g]);
      const name = shortly(infoOf(feed).name);
      const own = spokenAs(name, is_forage(infoOf(feed)), to === "doe" ? "" : subject);
      const held = groups.get(key) ?? { on, feed, own, g, up: g > (k ? steps[k - 1]![1] : from_g), slots: [] };
      groups.set(key, { ...held, slots: [...held.slots, slot] });
    });
  }
  return [...groups.values()].map(({ on, feed, own, g, up, slots }) => {
    const place = (slot: string) => SLOTS.findIndex((each) => each === slot);
    const meals = and(slots.sort((a, b) => place(a) - place(b)).map((slot) => t(`slot.${slot}`).toLocaleLowerCase()));
    const key = g ? (up ? "stretch.up" : "stretch.down") : "stretch.none";
    return [on, t(key, { feed: own, g: spokenAmount(feed, g), meals })];
  });
}

/** Hay beside her feeder's is in a bowl of her own; what goes into a feeder for several is not hers alone. */
function spokenAs(feed: string, is_hay: boolean, pen: string): string {
  if (!pen) return is_hay ? t("stretch.own", { feed }) : feed;
  const shared = Object.values(day.view.does).filter((doe) => doe.pen === pen && !doe.left_on).length > 1;
  return shared ? t("stretch.feeder", { feed, pen: nameOf(day.view.pens[pen]) }) : feed;
}

/** Feed, milkings, the last one and the hand on her udder. */
export function dryRows(plan: DryPlan): Row[] {
  const { last_on, milkings, way, lines } = plan;
  return byDay([
    ...feedRows(lines),
    ...milkings.map(([on, what]): [string, string] => [on, t(`dry.milk.${what}`)]),
    [last_on, t(`dry.last.${way}`)],
    [addDays(last_on, 1), t("dry.felt_from", { on: day.spoken(addDays(last_on, DRY_FELT_D)) })],
  ]);
}

export const riseRows = (plan: FeedPlan): Row[] => byDay(feedRows(plan.lines));

/** What is to come by her plan as it stands: held, and moved on, where her grain waited. */
export function linesAhead(doe: Doe): ActLine[] {
  const rations = [doe.id, doe.pen].filter(Boolean).flatMap(running);
  return rations.map((ration): ActLine => {
    const { subject, slot, feed } = ration;
    const steps = coming([ration]).map(({ on, g }): [string, number] => [on, g]);
    const to = subject === doe.id ? "doe" : "pen";
    return { subject, to, slot, feed, from_g: standing_g(ration, day.today), steps };
  });
}
