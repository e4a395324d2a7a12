import { days_between } from "../../core/outlook/ground/context.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import type { DoeResult } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";
import { calendar, DUE_SOON_D, score, span } from "../words/format.ts";
import { t } from "../words/text.ts";

type Due = NonNullable<DoeResult["due"]>;

/** One doe who carries, or may: `days` to the day she is due, null where no date is worked out. */
export interface DueRow {
  id: string;
  name: string;
  days: number | null;
  due: Due | null;
  /** Why there is no date. */
  lacks: string;
  /** After the last day of her window. */
  over: boolean;
  checked: boolean;
  kids: string;
  /** How many were counted; 0 where nobody has. */
  counted: number;
  scored: string;
  /** Where a column says already what it is of. */
  score: { score: string; on: string } | null;
  pen: string;
  phase: string;
}

/** Everybody who carries or was with the buck, whoever is due first at the top; who has no date yet, last. */
export function dueRows(): DueRow[] {
  const carrying = Object.values(day.view.does).filter((doe) => (doe.bred || undated(doe)) && !doe.left_on);
  return carrying.map(rowOf).sort((a, b) => at(a) - at(b) || a.name.localeCompare(b.name));
}

/** Found carrying, and nobody has said since when. */
const undated = (doe: Doe) => !doe.bred && doe.check?.result === "pregnant";

const at = ({ days }: DueRow) => days ?? Number.MAX_SAFE_INTEGER;

function rowOf(doe: Doe): DueRow {
  const result = day.judged.doe(doe.id);
  const due = result?.due ?? null;
  const told = scoreOf(doe);
  return {
    id: doe.id, name: nameOf(doe), due, days: due && days_between(day.today, due.mid),
    lacks: due ? "" : t(undated(doe) ? "due.undated" : "due.waits"),
    over: due !== null && due.late < day.today, ...foundIn(doe),
    scored: told ? t("due.score", told) : t("due.score.none"), score: told,
    pen: nameOf(day.view.pens[doe.pen]) || t("doe.no_pen"), phase: t(`phase.${result?.phase ?? -1}`),
  };
}

function foundIn({ check }: Doe): Pick<DueRow, "checked" | "kids" | "counted"> {
  const checked = check?.result === "pregnant";
  const counted = checked ? check.kids : 0;
  return { checked, counted, kids: counted ? t("due.kids", { n: counted }) : t("due.kids.none") };
}

function scoreOf({ scores }: Doe): DueRow["score"] {
  const last = scores.at(-1);
  return last ? { score: score(last[1]), on: calendar(last[0], day.today) } : null;
}

export function daysSaid(days: number | null): string {
  if (days === null) return "–";
  return days < 0 ? t("due.past", { n: -days }) : days ? t("due.days", { n: days }) : t("day.0");
}

/** Her window and the day she is as likely before as after. */
export function windowSaid({ early, mid, late }: Due, today: string): string {
  return t("due.window", { span: span(early, late, today), on: calendar(mid, today) });
}

/** How many are due within the month, those past it among them. */
export const dueSoon = (): number => dueRows().filter(({ days }) => days !== null && days <= DUE_SOON_D).length;
