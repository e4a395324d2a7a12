import { write, writeRecord } from "../forms/write.ts";
import type { Wrong } from "../forms/faults.ts";
import { doesIn } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { Data } from "../model/shapes.ts";

export interface NewDoe {
  kidded?: { on: string; born: number } | null;
  bred?: { from_on: string; to_on: string; how: "hand" | "pen" } | null;
  /** Nobody knows whether she is bred, or that she is and not since when. */
  check?: "unsure" | "pregnant" | "";
  pen: string;
  pen_on?: string;
  quiet?: boolean;
}

/** A doe as she comes into the book: her record first, what was seen of her since besides. */
export function enterDoe(id: string, f: Data, more: NewDoe): Wrong | null {
  const { kidded, bred, check, pen, pen_on, quiet = false } = more;
  if ((bred?.from_on ?? "") > day.today) return { field: "bred_on", code: "future" };
  if ((kidded?.on ?? "") > day.today) return { field: "kidded_on", code: "future" };
  const order = doesIn(day.view, pen).length + 1;
  const problem = writeRecord("doe", id, { ...f, order: f["order"] || order }, undefined, { quiet });
  if (problem) return problem;
  const on = (date: string) => ({ on: date, slot: "" as const, quiet: true });
  if (kidded) write("kidded", id, { born: kidded.born, alive: kidded.born, timed: false }, on(kidded.on));
  if (bred) write("bred", id, { ...bred, buck: "" }, on(bred.from_on));
  if (check) write("preg_check", id, { result: check, kids: 0, how: "other" }, on(day.today));
  if (pen) write("moved", id, { pen }, on(pen_on ?? day.today));
  return null;
}
