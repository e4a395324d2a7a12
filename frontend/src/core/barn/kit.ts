import { addDays } from "../base/days.ts";
import { compareText } from "../events/order.ts";
import type { Json } from "../events/events.ts";
import type { RecordRow, View } from "../state/view.ts";
import { KIT_BEFORE_D } from "../tables/numbers.ts";

/** One thing of the kidding kit. `fetch`: how many are missing to what there should be. */
export interface KitThing {
  id: string;
  name: string;
  place: string;
  par: number;
  count: number;
  expires_on: string;
  fetch: number;
  /** Nobody has said how many there are. */
  uncounted: boolean;
  row: RecordRow;
}

/** The first and the last day on which a doe of the farm may kid. */
export interface KiddingSpan {
  early: string;
  late: string;
}

export interface ToFetch {
  short: KitThing[];
  /** Past its date today, or before the last doe may kid. */
  stale: KitThing[];
}

const whole = (value: Json | undefined) => (typeof value === "number" ? value : 0);

export function kit_of(view: View): KitThing[] {
  const here = Object.values(view.kit).filter(({ f }) => f["gone"] !== true);
  return here.map((row) => thing(row, count_of(view, row))).sort(by_place_in_list);
}

/** As it was last counted, less what was used since: of two phones apart both. */
export function count_of({ kit_uses }: View, { id, f, stamp }: RecordRow): number {
  const since = stamp["count"] ?? "";
  const used = kit_uses.filter(({ subject, hlc }) => subject === id && compareText(hlc, since) > 0);
  return Math.max(0, used.reduce((left, { n }) => left - n, whole(f["count"])));
}

function thing(row: RecordRow, count: number): KitThing {
  const { f } = row;
  const par = whole(f["par"]);
  return {
    id: row.id, name: String(f["name"] ?? ""), place: String(f["place"] ?? "").trim(), par, count,
    expires_on: String(f["expires_on"] ?? ""), fetch: Math.max(0, par - count),
    uncounted: f["count"] === undefined, row,
  };
}

const by_place_in_list = (a: KitThing, b: KitThing) =>
  whole(a.row.f["order"]) - whole(b.row.f["order"]) || compareText(a.id, b.id);

/** Of carrying does whose dates this phone knows. */
export function kidding_span(dues: { early: string; late: string }[]): KiddingSpan | null {
  if (!dues.length) return null;
  return { early: dues.map(({ early }) => early).sort()[0]!, late: dues.map(({ late }) => late).sort().at(-1)! };
}

export function to_fetch(things: KitThing[], today: string, span: KiddingSpan | null): ToFetch {
  const needed = span && span.late > today ? span.late : today;
  return {
    short: things.filter(({ fetch, uncounted }) => fetch > 0 && !uncounted),
    stale: things.filter(({ expires_on, count }) => expires_on !== "" && expires_on < needed && count > 0),
  };
}

export interface KitWord {
  /** Before this day: the first on which a doe may kid. */
  before: string;
  /** How many things are short or out of date; -1 where nothing is on the list. */
  n: number;
}

/** Said from some days before the first doe may kid until the last has, while something is missing. */
export function kit_word(view: View, today: string, span: KiddingSpan | null): KitWord | null {
  if (!span || today < addDays(span.early, -KIT_BEFORE_D)) return null;
  const things = kit_of(view);
  const { short, stale } = to_fetch(things, today, span);
  const open = things.filter(({ uncounted }) => uncounted);
  const n = things.length ? new Set([...short, ...stale, ...open]).size : -1;
  return n === 0 ? null : { before: span.early, n };
}
