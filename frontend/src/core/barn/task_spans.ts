import { addDays } from "../base/days.ts";
import type { TaskWord, View } from "../state/view.ts";
import { TASK_NEVER_D, TASK_SAME_D, TASK_SAME_SEASON_D } from "../tables/numbers.ts";
import { RULES } from "../tables/rules.ts";
import { TASKS, type TaskCode, type TaskRow } from "../tables/tasks.ts";
import { anchors_of, HERD, is_for, type Anchor, type RuleOf } from "./task_anchors.ts";
import { is_told } from "./task_told.ts";

/** One task of one animal, or of the herd: its days, before anybody said what became of it. */
export interface Span {
  task: string;
  subject: string;
  /** The day its days are counted from: this year's from last year's. */
  key: string;
  from: string;
  to: string;
  /** The log says it is done, by an entry of another kind. */
  told: boolean;
  /** Never done as far as anybody said: on no day of a calendar. */
  loose: boolean;
  /** What was said of a key so many days away was said of this one. */
  near_d: number;
}

const OVER = new Set(["done", "skipped"]);

/** Every span of the table. */
export function table_spans(view: View, rule: RuleOf, day: string): Span[] {
  return (Object.keys(TASKS) as TaskCode[]).flatMap((code) => {
    const row = TASKS[code];
    if (row.anchor === "last") return [again(code, row, view, day)];
    const anchors = anchors_of(row.anchor, view, rule, day).filter((anchor) => is_for(row, anchor, view));
    return anchors.flatMap((anchor) => counted(code, row, anchor, rule, view));
  });
}

/** Early ones start on the first day that may be true, late ones go back from it; a watch stays open to the last. */
function counted(task: TaskCode, row: TaskRow, anchor: Anchor, rule: RuleOf, view: View): Span[] {
  const days = row[anchor.size];
  if (!days) return [];
  const moved = row.shift ? shifted(row.shift, anchor.size, rule) : 0;
  const last = row.watch ? anchor.last : anchor.first;
  const [from, to] = [addDays(anchor.first, days[0] + moved), addDays(last, days[1] + moved)];
  const near_d = row.anchor === "season" ? TASK_SAME_SEASON_D : TASK_SAME_D;
  const span = { task, subject: anchor.subject, key: anchor.first, from, to, loose: false, near_d };
  return [{ ...span, told: is_told(span, view) }];
}

/** A herd rule that was changed takes its tasks along. */
function shifted([standard, mini, times]: NonNullable<TaskRow["shift"]>, size: Anchor["size"], rule: RuleOf): number {
  const name = size === "mini" ? mini : standard;
  return times * (rule(name) - RULES[name][0]);
}

/** What comes round again, counted from when it was last done or left out. */
function again(task: TaskCode, { standard }: TaskRow, { tasks, does, kids, pens }: View, day: string): Span {
  const herds = (word: TaskWord) => !(word.subject in does || word.subject in kids || word.subject in pens);
  const done = tasks.findLast((word) => word.task === task && OVER.has(word.what) && herds(word));
  const [from, to] = done
    ? [addDays(done.on, standard![0]), addDays(done.on, standard![1])]
    : [day, addDays(day, TASK_NEVER_D)];
  return { task, subject: HERD, key: done?.on ?? "first", from, to, told: false, loose: !done, near_d: 0 };
}
