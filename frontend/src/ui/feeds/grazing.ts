import { GRAZES_LATELY_D } from "../../core/tables/numbers.ts";
import { addDays } from "../words/format.ts";
import { day } from "../model/day.svelte.ts";
import type { Feeding } from "../model/shapes.ts";
import { feedInfo } from "../model/herd.ts";

export const isGrazed = (id: string): boolean => day.feeds[id]?.grazed === 1;

const grazings = (pen: string): Feeding[] =>
  day.view.feedings.filter(({ subject, lines }) => subject === pen && lines.some(([, feed]) => isGrazed(feed)));

export const grazedOn = (pen: string, on: string): Feeding[] => grazings(pen).filter((feeding) => feeding.on === on);

/** Whether the pen went out lately: only then does the chores list ask. */
export function grazesLately(pen: string): boolean {
  const since = addDays(day.today, -GRAZES_LATELY_D);
  return grazings(pen).some(({ on }) => on >= since);
}

/** What the pen grazed last, or nothing yet. */
export function lastGrazed(pen: string): string {
  const line = grazings(pen).at(-1)?.lines.find(([, feed]) => isGrazed(feed));
  return line?.[1] ?? "";
}

export function grazedFeeds(): { value: string; label: string }[] {
  const ids = Object.keys(day.feeds).filter(isGrazed);
  return ids
    .map((value) => ({ value, label: feedInfo(day.view, day.feeds, value).name }))
    .sort((a, b) => (a.label < b.label ? -1 : 1));
}
