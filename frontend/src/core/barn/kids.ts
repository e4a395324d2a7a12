import { DAY_MS, dayOf, MIN_MS } from "../base/days.ts";
import { idOf } from "../base/ids.ts";
import { born_ms, is_dead, litter_of } from "../outlook/kidding/litter.ts";
import type { Doe, KidWeight, RecordRow, View } from "../state/view.ts";
import { CARRIED_MOST_D, FIRST_DAYS_D, LITTER_MOST } from "../tables/numbers.ts";

/** The kids of one kidding, each with a record of its own. */
type Service = Doe["services"][number];

/** The service she carries from on a day, as far as anybody said. */
export function service_of({ services }: Doe, on: string): Service | undefined {
  return services.findLast(({ from }) => from <= on && dayOf(on) - dayOf(from) <= CARRIED_MOST_D);
}

/**
 * What tells this litter from her others, alike on two phones that have not heard of each other: her service, else how
 * often she kidded before. A kidding that is written down already is this one.
 */
function litter_key(doe: Doe, on: string): string {
  const service = service_of(doe, on);
  const written = doe.kidded !== null && Math.abs(dayOf(on) - dayOf(doe.kidded.on)) <= FIRST_DAYS_D;
  return service?.ev ?? String(doe.kiddings - (written ? 1 : 0));
}

export const kid_id = (doe: Doe, n: number, on: string) => idOf("kid", doe.id, litter_key(doe, on), String(n));

/** What is known of a kid the moment it comes. */
export function first_fields(doe: Doe, n: number, on: string, at_ms: number): Record<string, string | number> {
  const sire = service_of(doe, on)?.buck ?? "";
  return { dam: doe.id, n, born_on: on, born_min: Math.floor(at_ms / MIN_MS), ...(sire ? { sire } : {}) };
}

/** The number the next kid gets; 0 where no more can be written. */
export function next_n(litter: RecordRow[]): number {
  const n = 1 + Math.max(0, ...litter.map(({ f }) => Number(f["n"])));
  return n > LITTER_MOST ? 0 : n;
}

/** What a kidding is written down from: its lines. */
export function written_from(litter: RecordRow[]): { born: number; alive: number; last_ms: number } {
  const alive = litter.filter((kid) => !is_dead(kid)).length;
  return { born: litter.length, alive, last_ms: Math.max(0, ...litter.map(born_ms)) };
}

/** The litter that is coming, or came in these days. */
export function litter_now(view: View, doe: Doe, now_ms: number): RecordRow[] {
  return litter_of(view, doe.id, now_ms - FIRST_DAYS_D * DAY_MS, now_ms);
}

/** Kids that are still kids: the youngest first, a litter in its order. */
export function kids_here(view: View): RecordRow[] {
  const here = Object.values(view.kids).filter((kid) => kid.f["dam"] && !is_gone(kid));
  const on = (kid: RecordRow) => String(kid.f["born_on"]);
  return here.sort((a, b) => (on(a) < on(b) ? 1 : on(a) > on(b) ? -1 : by_dam(a, b)));
}

function by_dam(a: RecordRow, b: RecordRow): number {
  const [one, other] = [a, b].map(({ f }) => `${String(f["dam"])} ${Number(f["n"])}`) as [string, string];
  return one < other ? -1 : 1;
}

/** Dead, sold, or one of the does by now. */
export const is_gone = (kid: RecordRow) => is_dead(kid) || Boolean(kid.f["out"]) || Boolean(kid.f["grown"]);

export interface Grown {
  on: string;
  g: number;
  /** From the weighing before it; 0 for the first, or on one day. */
  day_g: number;
}

/** Its weights from birth on, one a day, the last said; with what it grew a day since the one before. */
export function growth_of(kid: RecordRow, weights: KidWeight[]): Grown[] {
  const by_day = new Map<string, number>();
  const birth = Number(kid.f["birth_g"] ?? 0);
  if (birth) by_day.set(String(kid.f["born_on"]), birth);
  for (const { subject, on, g } of weights) if (subject === kid.id) by_day.set(on, g);
  const rows = [...by_day].sort(([a], [b]) => (a < b ? -1 : 1));
  return rows.map(([on, g], k) => {
    const [before, was] = rows[k - 1] ?? [on, g];
    const days = dayOf(on) - dayOf(before);
    return { on, g, day_g: days ? Math.round((g - was) / days) : 0 };
  });
}
