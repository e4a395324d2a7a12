import { addDays, dayOf } from "../base/days.ts";
import type { TaskWord, View } from "../state/view.ts";
import { TASK_LATE_D, TASK_NEVER_D, TASK_SAME_D, TASK_SAME_SEASON_D } from "../tables/numbers.ts";
import { RULES } from "../tables/rules.ts";
import { TASKS, type TaskCode, type TaskRow } from "../tables/tasks.ts";
import { anchors_of, HERD, type Anchor, type Given, type RuleOf } from "./task_anchors.ts";
import { gone_round, is_told } from "./task_told.ts";
import { is_for } from "./task_whom.ts";

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
  /** On no day of a calendar: never done as far as anybody said, or over before anybody wrote it down. */
  loose: boolean;
  /** What was said of a key so many days away was said of this one. */
  near_d: number;
  /** What was said since then was said of this one; "" where the key alone tells. */
  since: string;
  /** Which time of the same task it is, through every change of its dates. */
  turn: string;
  noted: string;
  /** Done so many days after its last day it is still of use. */
  late_d: number;
  /** Of use where it was over before anybody wrote her down. */
  still: boolean;
}

const OVER = new Set(["done", "skipped"]);

/** Every span of the table. */
export function table_spans(view: View, given: Given): Span[] {
  return (Object.keys(TASKS) as TaskCode[]).flatMap((code) => {
    const row = TASKS[code];
    if (row.anchor === "last") return [again(code, row, view, given.day)];
    const anchors = anchors_of(row.anchor, view, given).filter((anchor) => is_for(row, anchor, view, given.rule));
    return anchors.flatMap((anchor) => counted(code, row, anchor, given.rule, view));
  });
}

/**
 * Early ones start on the first day that may be true, late ones go back from it; a watch stays open to the last. She is
 * dried off on the day that was planned for it.
 */
function counted(task: TaskCode, row: TaskRow, anchor: Anchor, rule: RuleOf, view: View): Span[] {
  const days = row[anchor.size];
  if (!days) return [];
  const moved = row.shift ? shifted(row.shift, anchor.size, rule) : 0;
  const last = row.watch ? anchor.last : anchor.first;
  const planned = task === "dry_off" ? view.does[anchor.subject]?.dry_plan?.last_on : "";
  const [from, to] = planned
    ? [planned, planned]
    : [addDays(anchor.first, days[0] + moved), addDays(last, days[1] + moved)];
  const near_d = row.anchor === "season" ? TASK_SAME_SEASON_D : TASK_SAME_D;
  const { subject, key, since, turn, noted } = anchor;
  const { late_d, still } = row;
  const span = { task, subject, key, from, to, loose: false, near_d, since, turn, noted, late_d, still, told: false };
  return each_time(span, row.every_d).map((one) => ({ ...one, told: is_told(one, view) }));
}

/** What comes again and again within its days, each time by itself. */
function each_time(span: Span, every_d: number): Span[] {
  if (!every_d) return [span];
  const times = Math.floor((dayOf(span.to) - dayOf(span.from)) / every_d) + 1;
  return Array.from({ length: times }, (_, i) => {
    const from = addDays(span.from, i * every_d);
    const until = addDays(from, every_d - 1);
    const [to, key] = [until < span.to ? until : span.to, addDays(span.key, i * every_d)];
    return { ...span, from, to, key, since: "", turn: `${span.turn}.${i}`, near_d: Math.floor((every_d - 1) / 2) };
  });
}

/** A herd rule that was changed takes its tasks along. */
function shifted([standard, mini, times]: NonNullable<TaskRow["shift"]>, size: Anchor["size"], rule: RuleOf): number {
  const name = size === "mini" ? mini : standard;
  return times * (rule(name) - RULES[name][0]);
}

/** What comes round again, counted from when it was last done or left out, or the log says it was. */
function again(task: TaskCode, { standard, late_d }: TaskRow, { tasks, does, kids, pens }: View, day: string): Span {
  const herds = (word: TaskWord) => !(word.subject in does || word.subject in kids || word.subject in pens);
  const word = tasks.findLast((word) => word.task === task && OVER.has(word.what) && herds(word));
  const done = [word?.on ?? "", gone_round(task, does)].sort().at(-1)!;
  const [from, to] = done
    ? [addDays(done, standard![0]), addDays(done, standard![1])]
    : [day, addDays(day, TASK_NEVER_D)];
  const key = done || "first";
  const said = { key, near_d: 0, since: "", turn: key, noted: "", late_d: late_d || TASK_LATE_D, still: false };
  return { task, subject: HERD, from, to, told: false, loose: !done, ...said };
}
