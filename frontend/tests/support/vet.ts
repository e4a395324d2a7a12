import { fold } from "../../src/core/state/fold.ts";
import type { Doe, Feeding, Intake, Ration, View } from "../../src/core/state/view.ts";

/** Views written by hand: what is not said is empty. */
export const TODAY = "2026-03-31";
export const HER = "doe-clary";
export const PEN = "pen-lee";
export const HAY = "feed-hay";
export const OATS = "feed-oats";

export const at = (on: string, clock = "06:00") => Date.parse(`${on}T${clock}:00Z`);

export function doe(id: string, more: Partial<Doe> = {}): Doe {
  return {
    id, f: {}, stamp: {}, by: {}, moves: [["2026-01-01", PEN, ""]], pen: PEN, bred: null, check: null, dried_on: "",
    kidded: null, kiddings: 0, left_on: "", freeze: null, treatments: [], scores: [], weights: [], milks: [],
    udder: [], signs: [], checkups: [], triages: [], got_into: [], kid_looks: [], afterbirths: [],
    dam_looks: [], heats: [], services: [], dry_plan: null, checks: [], open_on: "", gestations: [], ...more,
  };
}

export function view(more: Partial<View> = {}): View {
  return { ...fold([]), ...more };
}

export function fed(on: string, slot: string, lines: Feeding["lines"], more: Partial<Feeding> = {}): Feeding {
  return {
    ev: `fed ${on} ${slot}`, subject: PEN, on, slot, happened: at(on, slot === "morning" ? "06:00" : "18:00"),
    author: "ada", adds: false, lines, ...more,
  };
}

export function ate(on: string, slot: string, how: string, left_pm = 0, more: Partial<Intake> = {}): Intake {
  return {
    ev: `ate ${on} ${slot} ${how}`, subject: HER, on, slot,
    happened: at(on, slot === "morning" ? "06:30" : "18:30"), author: "bea", how, left_pm, feed: "", ...more,
  };
}

export function ration(subject: string, slot: string, feed: string, steps: Ration["steps"]): Ration {
  return { subject, slot, feed, steps, marks: [], hlc: "", ev: "" };
}
