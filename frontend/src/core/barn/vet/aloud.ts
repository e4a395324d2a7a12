import { dayOf } from "../../base/days.ts";
import type { Due } from "../../outlook/ground/documents.ts";
import { is_buck } from "../../outlook/ground/branches.ts";
import type { Checkup, Doe } from "../../state/view.ts";
import { SIGNS_HOLD_D } from "../../tables/numbers.ts";

/**
 * What is read to a vet who has just picked up: who, since when, how far along, what was measured. What nobody measured
 * today or yesterday is said to be unknown, never left out.
 */
export interface Aloud {
  buck: boolean;
  /** Days to the usual date, below nought when past; null where she is not known to carry. */
  to_go: number | null;
  bred_d: number | null;
  fresh_d: number | null;
  kids: number;
  temp: Reading | null;
  ketones: Reading | null;
  urine: Reading<string> | null;
  passes: Reading<string> | null;
}

export interface Reading<T = number> {
  value: T;
  at: number;
}

export function aloud_of(doe: Doe, due: Due | null, today: string): Aloud {
  const { bred, kidded, check } = doe;
  const rows = doe.checkups.filter(([on]) => on <= today && days(on, today) <= SIGNS_HOLD_D);
  const passed = doe.triages.findLast(({ passes, on }) => passes !== "" && days(on, today) <= SIGNS_HOLD_D);
  return {
    buck: is_buck(doe),
    to_go: bred && due ? days(today, due.mid) : null,
    bred_d: bred ? days(bred.from, today) : null,
    fresh_d: !bred && kidded && !doe.dried_on ? days(kidded.on, today) : null,
    kids: bred && check ? check.kids : 0,
    temp: reading(rows, (row) => row[2]),
    ketones: reading(rows, (row) => row[3]),
    urine: reading(rows, (row) => row[4]),
    passes: passed ? { value: passed.passes, at: passed.happened } : null,
  };
}

function reading<T>(rows: Checkup[], of: (row: Checkup) => T): Reading<T> | null {
  const row = rows.findLast(of);
  return row ? { value: of(row), at: row[1] } : null;
}

function days(from: string, to: string): number {
  return dayOf(to) - dayOf(from);
}
