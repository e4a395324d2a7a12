import { addDays, dayOf } from "../../core/base/days.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Wish } from "../model/shapes.ts";
import { rowsOf, type Draft } from "./steps.ts";

/** A refusal is told to whoever wished for so long. */
const DECLINED_SHOWN_D = 7;

/** Those that wait, for who plans; of a helper her own, and what was said of them. */
export function wishesShown(about?: string): Wish[] {
  const since = addDays(day.today, -DECLINED_SHOWN_D);
  const mine = session.farm?.person;
  return day.view.wishes.filter(({ subject, author, declined, on }) => {
    if (about !== undefined && subject !== about) return false;
    if (session.plans) return declined === null && !day.view.does[subject]?.left_on;
    return author === mine && (declined === null || on >= since);
  });
}

/** As it was wanted, and no sooner than today: what waited is moved on by as many days as it waited. */
export function draftOf({ subject, feed, slot, steps }: Wish): Draft {
  const late = Math.max(0, dayOf(day.today) - dayOf(steps[0]![0]));
  const moved = steps.map(([on, g]): [string, number] => [addDays(on, late), g]);
  return { subject, to: day.view.pens[subject] ? "pen" : "doe", feed, slots: [slot], steps: rowsOf(moved) };
}
