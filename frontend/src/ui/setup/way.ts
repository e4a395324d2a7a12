import { go, to } from "../shell/router.svelte.ts";
import { pens } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { begun } from "../start/begun.svelte.ts";

/** The questions in the order they are asked: of the farm once, then of one doe after the other. */
export const FARM = ["units", "pens", "hay", "flake", "feeder", "grain", "scoop"] as const;
export const DOE = ["name", "size", "state", "kidded", "bred", "bowl"] as const;
export const STEPS: readonly string[] = [...FARM, ...DOE, "answer", "score", "done"];

export const onTo = (...path: string[]) => go(to("setup", ...path));

/** Answers about the doe in hand. */
export const HERS = ["name", "typing", "size", "state", "kids", "kidded", "bred", "bred_on", "kidded_on", "pen"];
export const inMilk = (state: string) => state === "milk" || state === "milk_first";

/** A question that what was said before makes idle is not asked. */
export function isAsked(step: string): boolean {
  const has_hay = Boolean(begun.said("hay"));
  if (step === "flake") return has_hay;
  if (step === "feeder") return has_hay && pens(day.view).length > 0;
  if (step === "scoop" || step === "bowl") return Boolean(begun.said("grain"));
  return step !== "kidded" || inMilk(begun.said("state"));
}

/** The question after this one; feeders are asked pen by pen. */
export function after(step: string, pen = ""): string[] {
  const walk: string[] = [...FARM, ...DOE];
  const order = pens(day.view).map(({ id }) => id);
  const next_pen = step === "feeder" ? order[order.indexOf(pen) + 1] : undefined;
  if (next_pen) return ["feeder", next_pen];
  const next = walk.slice(walk.indexOf(step) + 1).find(isAsked) ?? "answer";
  return next === "feeder" ? [next, order[0] ?? ""] : [next];
}

export const homePen = () => begun.said("pen") || pens(day.view)[0]?.id || "";
