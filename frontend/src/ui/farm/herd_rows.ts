import { days_between } from "../../core/outlook/ground/context.ts";
import { subject_lines } from "../../core/outlook/feeding/plan.ts";
import { SLOTS } from "../../core/events/kinds.ts";
import { doesIn, nameOf, pens, shortly } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { infoOf } from "../sentences/amounts.ts";
import { promptOf, say } from "../sentences/prompt.ts";
import { standOf, type Stand } from "../sentences/standing.ts";
import { calendar, score } from "../words/format.ts";
import { t } from "../words/text.ts";

/** A column of the herd's table: what is read, and what it is sorted by. */
export type Column = "name" | "pen" | "day" | "due" | "kids" | "condition" | "gets" | "word";
export const COLUMNS: Column[] = ["name", "pen", "day", "due", "kids", "condition", "gets", "word"];

export interface HerdRow {
  id: string;
  stand: Stand | null;
  cells: Record<Column, { text: string; by: number | string }>;
}

/** Nothing known goes last, whichever way the column runs. */
const LAST = Number.MAX_SAFE_INTEGER;

export function herdRows(): HerdRow[] {
  const { view } = day;
  return [...pens(view).map(({ id }) => id), ""].flatMap((id) => doesIn(view, id)).map(rowOf);
}

function rowOf(doe: Doe): HerdRow {
  const result = day.judged.doe(doe.id);
  const prompt = promptOf(result);
  const name = nameOf(doe);
  const pen = nameOf(day.view.pens[doe.pen]);
  return {
    id: doe.id, stand: result && result.standing !== "buck" ? standOf(result) : null,
    cells: {
      name: { text: name, by: name }, pen: { text: pen, by: pen || "\uffff" }, day: dayCell(result?.gest ?? -1),
      due: dueCell(result?.due?.mid), kids: kidsCell(doe), condition: conditionCell(doe),
      gets: getsCell(doe), word: { text: prompt ? say(prompt).text : t(restKey(doe.id)), by: prompt?.rank ?? LAST },
    },
  };
}

const restKey = (id: string) => {
  const standing = day.judged.doe(id)?.standing;
  return standing === "ok" ? "level.level" : standing === "buck" ? "stage.buck" : "level.cant";
};
const cell = (text: string, by: number) => ({ text, by });
const dayCell = (gest: number) => (gest < 0 ? cell("", LAST) : cell(String(gest), gest));
const dueCell = (on: string | undefined) =>
  on ? cell(calendar(on, day.today), days_between(day.today, on)) : cell("", LAST);

function kidsCell({ check }: Doe) {
  return check?.kids ? cell(String(check.kids), check.kids) : cell("", LAST);
}
function conditionCell({ scores }: Doe) {
  const last = scores.at(-1);
  return last ? cell(score(last[1]), last[1]) : cell("", LAST);
}

/** Her own bowl over the whole day; what is shared stands with the pen. */
function getsCell(doe: Doe) {
  const grams = new Map<string, number>();
  const lines = SLOTS.flatMap((slot) => subject_lines(day.plan, doe.id, day.today, slot));
  for (const [feed, g] of lines) grams.set(feed, (grams.get(feed) ?? 0) + g);
  const parts = [...grams].filter(([, g]) => g).map(([feed, g]) => `${day.amount(g)} ${shortly(infoOf(feed).name)}`);
  return cell(parts.join(", "), [...grams.values()].reduce((all, g) => all + g, 0) || LAST);
}

/** Equal ones keep the order of the walk. */
export function sorted(rows: HerdRow[], by: Column, down: boolean): HerdRow[] {
  const order = (a: HerdRow, b: HerdRow) => {
    const [x, y] = [a.cells[by].by, b.cells[by].by];
    if (x === y) return 0;
    if (x === LAST || y === LAST) return x === LAST ? 1 : -1;
    return (x < y ? -1 : 1) * (down ? -1 : 1);
  };
  return [...rows].sort(order);
}
