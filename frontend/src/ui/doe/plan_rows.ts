import { SLOTS } from "../../core/events/kinds.ts";
import { changes_ahead, subject_lines } from "../../core/outlook/feeding/plan.ts";
import { amount_on } from "../../core/state/planned.ts";
import { feedInfo, rationsOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { Doe, Ration } from "../model/shapes.ts";
import { spokenAmount } from "../sentences/amounts.ts";
import { t } from "../words/text.ts";

/** What is planned for a doe and for the feeder she eats from, and what is to come of it. */
export interface Coming {
  ration: Ration;
  on: string;
  g: number;
}

/** As it stands on a day: held while she is off her feed, or while a raise waits for a weight. */
export const standing_g = ({ subject, slot, feed }: Ration, on: string): number =>
  subject_lines(day.plan, subject, on, slot).find(([what]) => what === feed)?.[1] ?? 0;

export const waiting = (ration: Ration): boolean =>
  [[day.today, amount_on(ration.steps, day.today)] as const, ...changes_ahead(day.plan, ration)].some(
    ([on, g]) => standing_g(ration, on) < g,
  );

export function running(subject: string): Ration[] {
  const feeds = ({ steps }: Ration) => amount_on(steps, day.today) > 0 || steps.some(([on, g]) => on > day.today && g);
  return rationsOf(day.view, subject)
    .sort((a, b) => SLOTS.indexOf(a.slot as never) - SLOTS.indexOf(b.slot as never))
    .filter(feeds);
}

export const coming = (rations: Ration[]): Coming[] =>
  rations
    .flatMap((ration) => changes_ahead(day.plan, ration).map(([on, g]) => ({ ration, on, g })))
    .sort((a, b) => (a.on < b.on ? -1 : 1));

export function comingSaid({ ration: { feed, slot }, on, g }: Coming): string {
  return t(g ? "plan.from" : "plan.none_then", {
    on: day.mealDay(on), g: spokenAmount(feed, g), feed: feedInfo(day.view, day.feeds, feed).name,
    slot: t(`slot.${slot}`),
  });
}

/** The next change in what she gets, hers before her feeder's. */
export function nextOf(doe: Doe): Coming | undefined {
  const [own, shared] = [coming(running(doe.id)), doe.pen ? coming(running(doe.pen)) : []];
  return [...own, ...shared].sort((a, b) => (a.on < b.on ? -1 : 1))[0];
}
