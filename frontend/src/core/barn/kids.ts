import { DAY_MS, dayOf, MIN_MS } from "../base/days.ts";
import { idOf } from "../base/ids.ts";
import { compareText } from "../events/order.ts";
import { born_ms, is_dead, litter_of, stands_for, written_n, type Line } from "../outlook/kidding/litter.ts";
import type { Doe, KidWeight, RecordRow, View } from "../state/view.ts";
import { CARRIED_MOST_D, FIRST_DAYS_D, LITTER_MOST } from "../tables/numbers.ts";

/** The kids of a kidding, each with a record of its own. */
type Service = Doe["services"][number];

/** The service she carries from on a day, as far as anybody said. */
export function service_of({ services }: Doe, on: string): Service | undefined {
  return services.findLast(({ from }) => from <= on && dayOf(on) - dayOf(from) <= CARRIED_MOST_D);
}

/**
 * What tells this litter from her others where a kid goes by its number alone, alike on two phones that have not heard
 * of each other: her service, else how often she kidded before. A kidding that is written down already is this one.
 */
function litter_key(doe: Doe, on: string): string {
  const service = service_of(doe, on);
  const written = doe.kidded !== null && Math.abs(dayOf(on) - dayOf(doe.kidded.on)) <= FIRST_DAYS_D;
  return service?.ev ?? String(doe.kiddings - (written ? 1 : 0));
}

/** Of a kid nobody tapped as it came: one of so many that were born. One that is tapped has an id of its own. */
export const kid_id = (doe: Doe, n: number, on: string) => idOf("kid", doe.id, litter_key(doe, on), String(n));

/** What is known of a kid the moment it comes. */
export function first_fields(doe: Doe, n: number, on: string, at_ms: number): Record<string, string | number> {
  const sire = service_of(doe, on)?.buck ?? "";
  return { dam: doe.id, n, born_on: on, born_min: Math.floor(at_ms / MIN_MS), ...(sire ? { sire } : {}) };
}

/** The number the next kid gets, after those that were said to be born; 0 where no more can be written. */
export function next_n(litter: RecordRow[], born = 0): number {
  const n = 1 + Math.max(born, ...litter.map(written_n));
  return n > LITTER_MOST ? 0 : n;
}

/** The night a litter belongs to: that of its first kid, though the last came after first light. */
export function night_of(litter: RecordRow[], otherwise: string): string {
  const [first] = [...litter].sort((a, b) => born_ms(a) - born_ms(b));
  return String(first?.f["born_on"] ?? otherwise);
}

/** The litter that is coming, or came in these days. */
export function litter_now(view: View, doe: Doe, now_ms: number): Line[] {
  return litter_of(view, doe.id, now_ms - FIRST_DAYS_D * DAY_MS, now_ms);
}

/** Every kid once. */
export function kids_all({ kids }: View): RecordRow[] {
  return Object.values(kids).filter(({ id, f }) => f["dam"] && stands_for(kids, id) === id);
}

/** The kid a record is of, with its number in its litter. */
export function kid_of_record(view: View, id: string): Line | undefined {
  const kid = view.kids[stands_for(view.kids, id)];
  return kid && litter_of(view, String(kid.f["dam"]), born_ms(kid)).find((line) => line.id === kid.id);
}

/** Which phone wrote a kid down, as its stamp has it. */
const writer = ({ stamp }: RecordRow) => (stamp["dam"] ?? "").split("-").at(-1);

/**
 * Two records that may be of one kid: both phones gave it the same number, so neither had heard of the other's. Asked
 * of the later one, beside the one of another phone that came nearest to it, until somebody has said.
 */
export function one_or_two(litter: Line[]): [asked: Line, other: Line] | null {
  for (const asked of litter.filter(({ f }) => !f["same"]).reverse()) {
    const earlier = litter.slice(0, litter.indexOf(asked));
    if (!earlier.some((kid) => written_n(kid) === written_n(asked) && writer(kid) !== writer(asked))) continue;
    const apart = (kid: Line) => Math.abs(born_ms(kid) - born_ms(asked));
    const others = litter.filter((kid) => writer(kid) !== writer(asked));
    return [asked, others.reduce((near, kid) => (apart(kid) < apart(near) ? kid : near))];
  }
  return null;
}

/** Kids that are still kids: the youngest first, a litter in its order. */
export function kids_here(view: View): RecordRow[] {
  const here = kids_all(view).filter((kid) => !is_gone(kid));
  const on = (kid: RecordRow) => String(kid.f["born_on"]);
  return here.sort((a, b) => (on(a) < on(b) ? 1 : on(a) > on(b) ? -1 : by_dam(a, b)));
}

function by_dam(a: RecordRow, b: RecordRow): number {
  const [one, other] = [a, b].map(({ f }) => String(f["dam"])) as [string, string];
  return compareText(one, other) || written_n(a) - written_n(b) || born_ms(a) - born_ms(b) || compareText(a.id, b.id);
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
export function growth_of(kid: RecordRow & { others?: string[] }, weights: KidWeight[]): Grown[] {
  const ids = [kid.id, ...(kid.others ?? [])];
  const by_day = new Map<string, number>();
  const birth = Number(kid.f["birth_g"] ?? 0);
  if (birth) by_day.set(String(kid.f["born_on"]), birth);
  for (const { subject, on, g } of weights) if (ids.includes(subject)) by_day.set(on, g);
  const rows = [...by_day].sort(([a], [b]) => (a < b ? -1 : 1));
  return rows.map(([on, g], k) => {
    const [before, was] = rows[k - 1] ?? [on, g];
    const days = dayOf(on) - dayOf(before);
    return { on, g, day_g: days ? Math.round((g - was) / days) : 0 };
  });
}
