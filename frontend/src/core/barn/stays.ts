import type { Pack } from "./packs.ts";

type Dates = Pick<Pack, "from_on" | "to_on">;
/** Somebody's first and last day on the farm; without one there is no such limit. */
export interface Stay {
  starts_on?: string;
  ends_on?: string;
}

/** The pack's days as far as the place of whoever goes by it has others. Who is in already is not put out again. */
export function days_apart(pack: Dates, { starts_on = "", ends_on = "" }: Stay, today: string): Stay {
  if (pack.to_on < today || pack.to_on < pack.from_on) return {};
  return {
    ...(starts_on > today && starts_on !== pack.from_on && { starts_on: pack.from_on }),
    ...(ends_on && ends_on !== pack.to_on && { ends_on: pack.to_on }),
  };
}

/** Of these, what her place is given by itself: where it was as the pack was, or no longer reaches as far. */
export function days_to_follow(was: Dates, now: Dates, stay: Stay, today: string): Stay {
  const { starts_on, ends_on } = days_apart(now, stay, today);
  const begins = starts_on && (stay.starts_on === was.from_on || stay.starts_on! > starts_on);
  const ends = ends_on && (stay.ends_on === was.to_on || stay.ends_on! < ends_on);
  return { ...(begins && { starts_on }), ...(ends && { ends_on }) };
}

/** Of a pack that somebody is to go by, what her place lacks for it. */
export const days_lacking = (pack: Dates, stay: Stay, today: string): Stay => days_to_follow(pack, pack, stay, today);

/** Whether she is here for longer than the pack: on other days the farm is to her what it is to any helper. */
export const stays_beyond = ({ to_on }: Dates, { ends_on = "" }: Stay): boolean => !ends_on || ends_on > to_on;

/** From when to when she goes by it: no day is said that her place does not reach. */
export function reached({ from_on, to_on }: Dates, { starts_on = "", ends_on = "" }: Stay): Dates {
  return { from_on: starts_on > from_on ? starts_on : from_on, to_on: ends_on && ends_on < to_on ? ends_on : to_on };
}
