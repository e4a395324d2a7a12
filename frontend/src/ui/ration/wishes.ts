import { addDays, dayOf } from "../../core/base/days.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Wish } from "../model/shapes.ts";
import { rowsOf, type Draft } from "./steps.ts";

/** A refusal is told to whoever wished for so long. */
const DECLINED_SHOWN_D = 7;

/** Those that wait, for who plans; of a helper her own, and what was said of them. Of an act all or nothing. */
export function wishesShown(about?: string[]): [Wish, ...Wish[]][] {
  const all = together_of(waiting());
  return about ? all.filter((wishes) => wishes.some(({ subject }) => about.includes(subject))) : all;
}

function waiting(): Wish[] {
  const since = addDays(day.today, -DECLINED_SHOWN_D);
  const mine = session.farm?.person;
  return day.view.wishes.filter(({ subject, author, declined, on }) => {
    if (session.plans) return declined === null && !day.view.does[subject]?.left_on;
    return author === mine && (declined === null || on >= since);
  });
}

/** What is let in or declined together: all that one act asks for, or one ration. */
function together_of(wishes: Wish[]): [Wish, ...Wish[]][] {
  const found = new Map<string, [Wish, ...Wish[]]>();
  for (const wish of wishes) {
    const { act, author, of, from_pm, to_pm, by_on, ev, declined } = wish;
    const key = act ? JSON.stringify([act, author, of, from_pm, to_pm, by_on, declined?.by]) : ev;
    const held = found.get(key);
    if (held) held.push(wish);
    else found.set(key, [wish]);
  }
  return [...found.values()];
}

/** As they were wanted, and none sooner than today: what waited is moved on by as many days as it waited. */
export function draftsOf(wishes: Wish[]): Draft[] {
  const first = wishes.map(({ steps }) => steps[0]![0]).sort()[0]!;
  // she is moved with a day's first meal
  const soonest = dayOf(day.today) + (wishes.some(({ pen }) => pen) ? 1 : 0);
  const late = Math.max(0, soonest - dayOf(first));
  return wishes.map((wish) => draftOf(wish, late));
}

function draftOf({ subject, pen, feed, slot, steps }: Wish, late: number): Draft {
  const moved = steps.map(([on, g]): [string, number] => [addDays(on, late), g]);
  const to = pen || day.view.pens[subject] ? "pen" : "doe";
  return { subject: pen || subject, to, feed, slots: [slot], steps: rowsOf(moved) };
}
