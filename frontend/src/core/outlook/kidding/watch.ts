import { HOUR_MS, MIN_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { LABOUR_BEFORE_MIN, LOOK_AGAIN_H, UNATTENDED_SHARE_PM, USUAL_PAST_D } from "../../tables/numbers.ts";
import { EARLY_SIGNS } from "../../tables/off_feed.ts";
import type { Due } from "../ground/documents.ts";
import type { Signs } from "../ground/herd_figures.ts";
import { next_look, type NextLook } from "../ill/next_look.ts";
import { days_past } from "./overdue.ts";
import { ahead_of, clock_at, told_of, within, type Clock } from "./chance.ts";

/** What the next look hangs on besides the signs: her dates, the tables, and how long a labour may go on alone. */
export interface Watched {
  due: Due | null;
  table: Signs | undefined;
  unattended_h: number;
  clock: Clock;
}

export interface WatchLook extends NextLook {
  /** When the next look falls due, past or to come; 0 where nobody has looked. */
  due_ms: number;
}

/** What is said of a doe beside her signs: near, but before the first of her days, or past her usual one. */
export interface WatchDates {
  early: boolean;
  past_d: number;
}

export function watch_dates(due: Due | null, there: string[], today: string): WatchDates {
  if (!due) return { early: false, past_d: 0 };
  const past_d = days_past(due, today);
  return {
    early: today < due.early && there.some((sign) => EARLY_SIGNS.includes(sign)),
    past_d: past_d >= USUAL_PAST_D.said ? past_d : 0,
  };
}

const [HOUR_MIN, HALF_HOUR_MIN] = [60, 30];

/** The earlier of the longest gap for her signs and of when a labour may have gone on alone for too long. */
export function watch_look(doe: Doe, near: Watched): WatchLook {
  const look = next_look(doe.signs, near.clock.ms);
  if (!look.last_ms) return { ...look, due_ms: 0 };
  const due_ms = look.last_ms + Math.min(look.hours * HOUR_MS, gap_min(doe, near, look) * MIN_MS);
  return { ...look, due_ms, next_ms: due_ms > near.clock.ms ? due_ms : 0 };
}

/** The longest gap by half hours after which labour has not too often gone on for longer than the farm's limit. */
function gap_min(doe: Doe, { due, table, unattended_h, clock }: Watched, { hours, last_ms }: NextLook): number {
  const most = hours * HOUR_MIN;
  const ahead = due && table && ahead_of(due, table, told_of(doe, table, last_ms), clock_at(clock, last_ms));
  if (!ahead) return most;
  const soon = within(ahead, LABOUR_BEFORE_MIN);
  const alone = (gap: number) => within(ahead, gap - unattended_h * HOUR_MIN + LABOUR_BEFORE_MIN) - soon;
  for (let gap = most; gap > LOOK_AGAIN_H.close * HOUR_MIN; gap -= HALF_HOUR_MIN)
    if (alone(gap) <= UNATTENDED_SHARE_PM * 10) return gap;
  return Math.min(most, LOOK_AGAIN_H.close * HOUR_MIN);
}
