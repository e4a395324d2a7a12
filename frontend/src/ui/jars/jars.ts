import { jar_day, type JarDay } from "../../core/barn/bags.ts";
import { nameOf } from "../model/herd.ts";
import { infoOf, ruleOf } from "../sentences/amounts.ts";
import { day } from "../model/day.svelte.ts";
import type { RecordRow } from "../model/shapes.ts";
import { writeRecord } from "../forms/write.ts";

export interface Jar extends JarDay {
  row: RecordRow;
  name: string;
}

/** Jars by the day they were soaked, the oldest first. */
export function jars(): Jar[] {
  const keep_d = ruleOf("sprout_keep_d");
  const all = Object.values(day.view.jars).map((row) => ({
    row, name: nameOf(row) || infoOf(String(row.f["feed"])).name, ...jar_day(row.f, day.today, keep_d),
  }));
  return all.sort((a, b) =>
    a.ready_on < b.ready_on ? -1 : a.ready_on > b.ready_on ? 1 : a.row.id < b.row.id ? -1 : 1,
  );
}

export const isOver = ({ st }: JarDay) => st === "fed" || st === "thrown";

/** One tap, and one undo that brings it back. */
export function end(jar: Jar, thrown: boolean): void {
  writeRecord("jar", jar.row.id, { done_on: day.today, thrown }, jar.row);
}
