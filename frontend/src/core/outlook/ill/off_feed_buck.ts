import { HOUR_MS, MIN_MS } from "../../base/days.ts";
import type { Triage } from "../../state/view.ts";
import { since_ms, type Case } from "./off_feed_case.ts";
import { STREAM_AGAIN_H, STREAM_WITHIN_MIN } from "../../tables/numbers.ts";
import { URGENCIES, type Rest } from "../../tables/off_feed.ts";

/**
 * A buck or wether off his feed may have stones, and a blocked one is dead in days. Nothing clears him but a full
 * stream that somebody saw, and that only for a few hours.
 */

/** `recheck_ms` is left out where the stage's own hours go. */
export interface Level {
  level: number;
  rests: Rest[];
  vet_at_ms: number;
  recheck_ms?: number;
}

/** How he passed water when somebody last looked. */
export function last_passed({ looks }: Case): Triage | undefined {
  return looks.findLast(({ passes }) => passes !== "");
}

/** Strains, cries or kicks at his belly, by the last word on it. */
export function strains({ looks, meals }: Case): boolean {
  const told = looks.findLast(({ strains, passes }) => strains !== "" || passes === "drips");
  if (told) return told.strains === "yes" || (told.strains === "" && told.passes === "drips");
  return meals.flat().some(({ how }) => how === "strains");
}

export function buck_level(found: Case, down: boolean): Level {
  const vet = URGENCIES.indexOf("vet_now");
  if (down) return { level: vet, rests: ["down"], vet_at_ms: 0 };
  if (strains(found)) return { level: vet, rests: ["stones"], vet_at_ms: 0 };
  if (found.looks.some(({ result }) => result === "worse")) return { level: vet, rests: ["no_better"], vet_at_ms: 0 };
  const streamed = found.looks.findLast(({ passes }) => passes === "stream");
  const within = STREAM_WITHIN_MIN * MIN_MS;
  if (!streamed) {
    const vet_at_ms = since_ms(found) + within;
    return { level: URGENCIES.indexOf("now"), rests: ["no_stream"], vet_at_ms, recheck_ms: vet_at_ms };
  }
  const again = streamed.happened + STREAM_AGAIN_H * HOUR_MS;
  return { level: URGENCIES.indexOf("watch"), rests: ["stream"], recheck_ms: again, vet_at_ms: again + within };
}
