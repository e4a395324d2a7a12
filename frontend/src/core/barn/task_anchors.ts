import { addDays, dayOf } from "../base/days.ts";
import type { Doe, RecordRow, View } from "../state/view.ts";
import { TASK_GROWN_D, TASK_LATE_D, TASK_SEASON_D } from "../tables/numbers.ts";
import type { RuleName } from "../tables/rules.ts";
import type { TaskRow } from "../tables/tasks.ts";

/** Who a task is for, and the days it is counted from. */
export type RuleOf = (name: RuleName) => number;

/** The first day that may be true, and the last. */
export interface Anchor {
  subject: string;
  size: "standard" | "mini";
  first: string;
  last: string;
}

export type From = "season" | "bred" | "due" | "kidded" | "born";
type Maker = (view: View, rule: RuleOf, day: string) => Anchor[];

/** The herd as a whole, where a task names no animal. */
export const HERD = "";
const DAYS_OF_YEAR = 365;
const SEX: Record<string, string> = { kid: "", buckling: "buck", doeling: "doe" };

const is_doe = (doe: Doe) => doe.f["sex"] !== "buck";
const herd_of = (view: View) => Object.values(view.does).filter((doe) => !doe.left_on);
const size_of = (row: RecordRow | undefined) => (row?.f["size"] === "mini" ? "mini" : "standard");

const WHOM: Record<string, (doe: Doe, on: string) => boolean> = {
  carrying: (doe) => doe.bred !== null,
  in_milk: (doe) => doe.bred !== null && !doe.dried_on && (doe.kidded !== null || doe.milks.length > 0),
  first: (doe) => doe.bred !== null && doe.kiddings + Number(doe.f["kiddings_before"] ?? 0) === 0,
  fresh: (doe) => doe.kidded !== null,
  open: is_open,
  buck: (doe) => !is_doe(doe),
  dry_open: (doe, on) => !is_doe(doe) || is_open(doe, on),
};

function is_open(doe: Doe, on: string): boolean {
  const born = String(doe.f["born_on"] ?? "");
  return is_doe(doe) && !doe.bred && (born === "" || dayOf(on) - dayOf(born) >= TASK_GROWN_D);
}

const MAKERS: Record<From, Maker> = {
  bred: (view) => served(view, () => 0),
  due: (view, rule) => served(view, (doe) => rule(`preg_days_${size_of(doe)}`)),
  kidded: (view) => herd_of(view).flatMap((doe) => (doe.kidded ? [anchor(doe, doe.kidded.on)] : [])),
  born: ({ kids, does }) => Object.values(kids).filter(lives_here).map((kid) => born(kid, does)),
  season: (view, _, day) => {
    const on = season_on(view, day);
    const herd: Anchor = { subject: HERD, size: "standard", first: on, last: on };
    return on ? [herd, ...herd_of(view).map((doe) => anchor(doe, on))] : [];
  },
};

function served(view: View, long: (doe: Doe) => number): Anchor[] {
  return herd_of(view).flatMap((doe) => {
    return doe.bred ? [anchor(doe, addDays(doe.bred.from, long(doe)), addDays(doe.bred.to, long(doe)))] : [];
  });
}

function anchor(doe: Doe, first: string, last = first): Anchor {
  return { subject: doe.id, size: size_of(doe), first, last };
}

/** And has no record of its own among the does yet. */
const lives_here = ({ f }: RecordRow) => !f["out"] && !f["grown"] && f["came"] !== "dead";

function born({ id, f }: RecordRow, does: View["does"]): Anchor {
  const on = String(f["born_on"] ?? "");
  return { subject: id, size: size_of(does[String(f["dam"] ?? "")]), first: on, last: on };
}

export function anchors_of(from: From, view: View, rule: RuleOf, day: string): Anchor[] {
  return MAKERS[from](view, rule, day).filter(({ first }) => first);
}

/** Whom of them a row of the table is for. */
export function is_for({ of }: TaskRow, { subject, first }: Anchor, { does, kids }: View): boolean {
  if (of === "herd") return subject === HERD;
  const sex = SEX[of];
  if (sex !== undefined) return sex === "" || kids[subject]?.f["sex"] === sex;
  return subject in does && WHOM[of]!(does[subject]!, first);
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
