import { dayOf } from "../base/days.ts";
import type { Doe, View } from "../state/view.ts";
import { TASK_GROWN_D, TASK_LOST_D, TASK_MANY_KIDS } from "../tables/numbers.ts";
import type { TaskRow } from "../tables/tasks.ts";
import { HERD, type Anchor, type RuleOf } from "./task_anchors.ts";

/** Who a task is for. */
const SEX: Record<string, string> = { kid: "", buckling: "buck", doeling: "doe" };
const is_doe = (doe: Doe) => doe.f["sex"] !== "buck";

const WHOM: Record<string, (doe: Doe, on: string, rule: RuleOf) => boolean> = {
  carrying: (doe) => doe.bred !== null,
  in_milk: (doe) => doe.bred !== null && !doe.dried_on && (doe.kidded !== null || doe.milks.length > 0),
  first: (doe) => doe.bred !== null && doe.kiddings + Number(doe.f["kiddings_before"] ?? 0) === 0,
  at_risk: (doe, _, rule) => doe.bred !== null && is_at_risk(doe, rule),
  kidded: (doe) => doe.kidded !== null,
  fresh: (doe) => doe.kidded !== null && !doe.dried_on && !is_lost(doe),
  open: is_open,
  lean: (doe, on, rule) => is_open(doe, on) && scored(doe) < rule("score_fat_x100"),
  buck: (doe) => !is_doe(doe),
  dry_open: (doe, on) => !is_doe(doe) || is_open(doe, on),
};

/** Whom of them a row of the table is for. */
export function is_for({ of }: TaskRow, { subject, first }: Anchor, { does, kids }: View, rule: RuleOf): boolean {
  if (of === "herd") return subject === HERD;
  const sex = SEX[of];
  if (sex !== undefined) return subject in kids && (sex === "" || kids[subject]?.f["sex"] === sex);
  return subject in does && WHOM[of]!(does[subject]!, first, rule);
}

function is_open(doe: Doe, on: string): boolean {
  const born = String(doe.f["born_on"] ?? "");
  return is_doe(doe) && !doe.bred && (born === "" || dayOf(on) - dayOf(born) >= TASK_GROWN_D);
}

const scored = (doe: Doe) => doe.scores.at(-1)?.[1] ?? 0;

/** Many kids, thin, fat, or down with it before. */
function is_at_risk(doe: Doe, rule: RuleOf): boolean {
  const last = scored(doe);
  const off = last > 0 && (last < rule("score_thin_x100") || last >= rule("score_fat_x100"));
  return off || doe.f["had_toxemia"] === true || (doe.check?.kids ?? 0) >= TASK_MANY_KIDS;
}

/** Nothing lived and she was far from her time: no milk came that grain or a peak would go by. */
function is_lost({ kidded, gestations }: Doe): boolean {
  const last = gestations.at(-1);
  if (!kidded || kidded.alive || last?.ev !== kidded.ev) return false;
  return dayOf(last.on) - dayOf(last.from) < TASK_LOST_D;
}
