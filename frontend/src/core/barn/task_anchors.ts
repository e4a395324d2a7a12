import { addDays, dayOf } from "../base/days.ts";
import type { Doe, RecordRow, View } from "../state/view.ts";
import { CALENDAR_OVERDUE_D, TASK_EARLY_D, TASK_LATE_D, TASK_SAME_D, TASK_SEASON_D } from "../tables/numbers.ts";
import type { RuleName } from "../tables/rules.ts";
import { noted_on, noted_with } from "./task_noted.ts";

/** The days a task is counted from. */
export type RuleOf = (name: RuleName) => number;
/** What was worked out of her dates, and for which service; nothing where nothing is, or not yet. */
export type DueOf = (doe: string) => { due: { early: string; late: string } | null; basis: { bred: string } } | null;

export interface Given {
  rule: RuleOf;
  due: DueOf;
  day: string;
}

/** The first day that may be true, and the last. */
export interface Anchor {
  subject: string;
  size: "standard" | "mini";
  first: string;
  last: string;
  /** What is said of its tasks names this day. */
  key: string;
  /** What is said from then on is of this one, however its dates have moved; "" where the key alone tells. */
  since: string;
  /** The same through every change of its dates. */
  turn: string;
  /** The day it was written down; "" where nobody can tell. */
  noted: string;
}

export type From = "season" | "bred" | "settled" | "due" | "kidded" | "born";
type Maker = (view: View, given: Given) => Anchor[];
type Dates = Pick<Anchor, "first" | "last"> & Partial<Anchor>;

/** The herd as a whole, where a task names no animal. */
export const HERD = "";
const DAYS_OF_YEAR = 365;

const herd_of = (view: View) => Object.values(view.does).filter((doe) => !doe.left_on);
export const size_of = (row: RecordRow | undefined) => (row?.f["size"] === "mini" ? "mini" : "standard");

const MAKERS: Record<From, Maker> = {
  bred: (view) => served(view, ({ bred }) => ({ first: bred.from, last: bred.to })),
  settled: (view, given) => served(view, (doe) => settled(doe, given)),
  due: (view, given) => served(view, (doe) => {
    const key = addDays(doe.bred.from, given.rule(`preg_days_${size_of(doe)}`));
    return { ...window_of(doe, given), key, since: doe.bred.from };
  }),
  kidded: (view) => herd_of(view).flatMap((doe) => {
    return doe.kidded ? [anchor(doe, { first: doe.kidded.on, last: doe.kidded.on }, doe.kidded.hlc)] : [];
  }),
  born: ({ kids, does }) => Object.values(kids).filter(lives_here).map((kid) => born(kid, does)),
  season: (view, { day }) => {
    const on = season_on(view, day);
    if (!on) return [];
    const dates = { first: on, last: on, turn: season_of(on) };
    const noted = noted_with(view);
    const herd: Anchor = { subject: HERD, size: "standard", ...dates, key: on, since: "", noted };
    return [herd, ...herd_of(view).map((doe) => anchor(doe, dates))];
  },
};

type Bred = Doe & { bred: NonNullable<Doe["bred"]> };

function served(view: View, dates: (doe: Bred) => Dates): Anchor[] {
  const bred = herd_of(view).filter((doe): doe is Bred => doe.bred !== null);
  return bred.map((doe) => anchor(doe, dates(doe), doe.bred.hlc));
}

/** The first day she may kid and the last: by all that is known of her dates, else by her service alone. */
function window_of(doe: Bred, { due }: Given): Dates {
  const { bred } = doe;
  const known = due(doe.id);
  const is_hers = known?.basis.bred === `${bred.from}/${bred.to}`;
  if (known?.due && is_hers) return { first: known.due.early, last: known.due.late };
  const size = size_of(doe);
  return { first: addDays(bred.from, TASK_EARLY_D[size]), last: addDays(bred.to, CALENDAR_OVERDUE_D[size]) };
}

/** Her service, unless a scan, a mark or an older service says that she settled on other days. */
function settled(doe: Bred, given: Given): Dates {
  const { from, to } = doe.bred;
  const first = addDays(window_of(doe, given).first, -TASK_EARLY_D[size_of(doe)]);
  const is_other = Math.abs(dayOf(first) - dayOf(from)) > TASK_SAME_D;
  return { first: is_other ? first : from, last: to, key: from };
}

function anchor(doe: Doe, { first, last, ...more }: Dates, written = ""): Anchor {
  const said = { key: first, since: "", turn: String(doe.kiddings), noted: noted_on(doe, written) };
  return { subject: doe.id, size: size_of(doe), first, last, ...said, ...more };
}

/** And has no record of its own among the does yet. */
const lives_here = ({ f }: RecordRow) => !f["out"] && !f["grown"] && f["came"] !== "dead";

function born(kid: RecordRow, does: View["does"]): Anchor {
  const on = String(kid.f["born_on"] ?? "");
  const said = { key: on, since: "", turn: "", noted: noted_on(kid) };
  return { subject: kid.id, size: size_of(does[String(kid.f["dam"] ?? "")]), first: on, last: on, ...said };
}

export function anchors_of(from: From, view: View, given: Given): Anchor[] {
  return MAKERS[from](view, given).filter(({ first }) => first);
}

/** Its year as a season goes: from summer on it is one, whichever side of the new year he goes in. */
function season_of(on: string): string {
  return addDays(on, -Math.floor(DAYS_OF_YEAR / 2)).slice(0, "2026".length);
}

/**
 * The day the buck goes in: as somebody said, else a year after the first service of last season; "" where nobody
 * knows. Miniatures have no season.
 */
export function season_on({ tasks, does }: View, day: string): string {
  const near = (on: string) => Math.abs(dayOf(on) - dayOf(day)) <= TASK_SEASON_D;
  const said = tasks.findLast(({ task, what, to_on }) => task === "buck_in" && what === "moved" && near(to_on));
  if (said) return said.to_on;
  const services = Object.values(does).flatMap((doe) => (size_of(doe) === "mini" ? [] : doe.services));
  const again = services.map(({ from }) => addDays(from, DAYS_OF_YEAR));
  return again.filter((on) => near(on) && on >= addDays(day, -TASK_LATE_D)).sort()[0] ?? "";
}
