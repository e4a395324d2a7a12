import { day } from "../model/day.svelte.ts";
import { to } from "../shell/router.svelte.ts";
import type { View } from "../model/shapes.ts";

/** What a new farm still lacks, in the order that gives something back soonest. */
export const STEPS = ["pen", "doe", "ration"] as const;
export type Step = (typeof STEPS)[number];

export function isDone(view: View, step: Step): boolean {
  const table = { pen: view.pens, doe: view.does, ration: view.rations }[step];
  return Object.keys(table).length > 0;
}

export const isReady = (view: View) => STEPS.every((step) => isDone(view, step));

/** While a farm is being set up, every saved form leads back to the list of first steps. */
export function afterStep(): string | undefined {
  return STEPS.some((step) => !isDone(day.view, step)) || justReady() ? to() : undefined;
}

const justReady = () => Object.keys(day.view.rations).length <= 1 && day.view.feedings.length === 0;
