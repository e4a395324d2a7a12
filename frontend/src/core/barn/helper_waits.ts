import { addDays } from "../base/days.ts";
import { sum } from "../base/ints.ts";
import { changed, keys_of, type Change } from "../outlook/gates/change.ts";
import { amount_on } from "../state/planned.ts";
import type { Ration, View } from "../state/view.ts";
import { RULES } from "../tables/rules.ts";

/**
 * Why a helper's ration waits for who plans: it gives more, or it takes from a late doe. As the server judges it,
 * by the calendar and by grams: herd/services/standing.py, herd/services/late_cut.py.
 */
export type Waits = "" | "raise" | "late_cut";

export function waits(view: View, change: Change): Waits {
  if (raises(view, change)) return "raise";
  const late_on = late_from(view, change.subject);
  return late_on && cuts(view, change, late_on) ? "late_cut" : "";
}

/** More than stands, on any date from the first one on; a step down left out is a raise too. */
function raises(view: View, change: Change): boolean {
  const first = change.steps[0]![0];
  return keys_of(change).some((key) => {
    const held = view.rations[key]?.steps ?? [];
    const dates = [...change.steps, ...held].map(([on]) => on).filter((on) => on >= first);
    return dates.some((on) => amount_on(change.steps, on) > amount_on(held, on));
  });
}

/** From which day somebody fed under a subject is late by the calendar; "" for nobody. */
function late_from(view: View, subject: string): string {
  const fed = Object.values(view.does).filter(
    ({ id, pen, bred, left_on }) => (id === subject || pen === subject) && bred && !left_on,
  );
  return fed.map(({ bred }) => addDays(bred!.from, RULES.late_day[0])).sort()[0] ?? "";
}

function cuts(view: View, change: Change, late_on: string): boolean {
  const own = (rations: View["rations"]) => Object.values(rations).filter(({ subject }) => subject === change.subject);
  const [before, after] = [own(view.rations), own({ ...view.rations, ...changed(view.rations, change) })];
  const first = change.steps[0]![0];
  const lost = (on: string) => total(before, on) - total(after, on);
  const falls = (on: string) =>
    1000 * total(after, on) < (1000 - RULES.cut_pm[0]) * total(before, on)
    && (first >= late_on || lost(on) > lost(addDays(on, -1)));
  const dates = [...before, ...after].flatMap(({ steps }) => steps.map(([on]) => on));
  return dates.some((on) => on >= first && on >= late_on && falls(on));
}

function total(rations: Ration[], on: string): number {
  return sum(rations.map(({ steps }) => amount_on(steps, on)));
}
