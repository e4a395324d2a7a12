import type { BookFeed } from "../core/book.ts";
import { flake_g } from "../core/measures.ts";
import type { Context } from "../core/outlook/context.ts";
import { plan_lines, subject_lines } from "../core/outlook/plan.ts";
import type { Doe, Feeding, FeedLine, Intake, Ration, RecordRow, View } from "./shapes.ts";

/** Small readings of the folded view that several screens share. Pure. */
export const nameOf = (row: RecordRow | undefined) => String(row?.f["name"] ?? "");
const order = (row: RecordRow) => Number(row.f["order"] ?? 9999);
/** Long names of the book carry a remark in brackets; in a list the feed itself is enough. */
export const shortly = (name: string) => name.replace(/ ?\([^)]*\)/g, "");
export const inOrder = (a: RecordRow, b: RecordRow) => order(a) - order(b) || (nameOf(a) < nameOf(b) ? -1 : 1);

export function pens(view: View): RecordRow[] {
  return Object.values(view.pens).sort(inOrder);
}

/** Sixty rows ask the same of one view; it is sorted out once for all of them. */
interface Sorted {
  does: Map<string, Doe[]>;
  rations: Map<string, Ration[]>;
  feedings: Map<string, Feeding[]>;
  intakes: Map<string, Intake>;
}
const SORTED = new WeakMap<View, Sorted>();

function sorted(view: View): Sorted {
  let found = SORTED.get(view);
  if (!found) SORTED.set(view, (found = sortOut(view)));
  return found;
}

function sortOut(view: View): Sorted {
  const here = Object.values(view.does).filter((doe) => !doe.left_on).sort(inOrder);
  return {
    does: grouped(here, (doe) => known(view, doe)),
    rations: grouped(Object.values(view.rations), ({ subject }) => subject),
    feedings: grouped(view.feedings, mealKey),
    intakes: new Map(view.intakes.map((intake) => [mealKey(intake), intake])),
  };
}

function grouped<T>(rows: T[], key: (row: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(key(row));
    if (group) group.push(row);
    else groups.set(key(row), [row]);
  }
  return groups;
}

const mealKey = ({ subject, on, slot }: { subject: string; on: string; slot: string }) => `${subject}|${on}|${slot}`;

export function doesIn(view: View, pen: string): Doe[] {
  return sorted(view).does.get(pen) ?? [];
}

const known = (view: View, doe: Doe) => (view.pens[doe.pen] ? doe.pen : "");

export function rationsOf(view: View, subject: string): Ration[] {
  return sorted(view).rations.get(subject) ?? [];
}

export function gramsOn(ration: Ration, on: string): number {
  return ration.steps.reduce((grams, [start, g]) => (start <= on ? g : grams), 0);
}

/** What the plan says for a pen and its does in one slot: [doe or "", feed, grams]. An amount under question stays at what was last fed. */
export function planned(ctx: Context, pen: string, slot: string): FeedLine[] {
  if (pen) return plan_lines(ctx, pen, ctx.day, slot);
  return doesIn(ctx.view, "").flatMap(({ id }) => subject_lines(ctx, id, ctx.day, slot).map(([feed, g]): FeedLine => [id, feed, g]));
}

export function fedIn(view: View, pen: string, on: string, slot: string): Feeding[] {
  return sorted(view).feedings.get(mealKey({ subject: pen, on, slot })) ?? [];
}

export function intakeOf(view: View, doe: string, on: string, slot: string): Intake | undefined {
  return sorted(view).intakes.get(mealKey({ subject: doe, on, slot }));
}

export interface FeedInfo {
  id: string;
  name: string;
  class: string;
  flake_g: number;
}

/** A lot, an own feed or a feed of the book, whichever the id names. */
export function feedInfo(view: View, feeds: Record<string, BookFeed>, id: string): FeedInfo {
  const row = view.lots[id] ?? view.feeds[id];
  const book = feeds[id] ?? feeds[String(row?.f["feed"] ?? row?.f["like"] ?? "")];
  return { id, name: nameOf(row) || t(book?.name ?? id), class: book?.class ?? "", flake_g: flake_g(view, id) };
}

const CLASSES = ["own", "legume", "grass", "mixed", "grain", "protein", "byproduct", "fat", "fodder", "mineral"];

/** Own lots and feeds first, then the book by class. */
export function feedChoices(view: View, feeds: Record<string, BookFeed>): { group: string; items: FeedInfo[] }[] {
  const own = [...Object.keys(view.lots), ...Object.keys(view.feeds)].map((id) => feedInfo(view, feeds, id));
  const groups = new Map<string, FeedInfo[]>(own.length ? [["own", own]] : []);
  for (const id of Object.keys(feeds)) {
    if (view.lots[id] || view.feeds[id]) continue;
    const info = feedInfo(view, feeds, id);
    groups.set(info.class, [...(groups.get(info.class) ?? []), info]);
  }
  const place = (group: string) => CLASSES.indexOf(group);
  return [...groups].sort(([a], [b]) => place(a) - place(b)).map(([group, items]) => ({ group, items: items.sort((a, b) => (a.name < b.name ? -1 : 1)) }));
}
