import type { BookFeed } from "../../core/outlook/ground/herd_figures.ts";
import { flake_g } from "../../core/outlook/feeding/measures.ts";
import type { Context } from "../../core/outlook/ground/context.ts";
import { plan_lines, subject_lines } from "../../core/outlook/feeding/plan.ts";
import { amount_on } from "../../core/state/planned.ts";
import { t } from "../words/text.ts";
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

/** Sixty rows ask the same: it is sorted out once, and kept by the part of the view it was read from. */
const DOES = new WeakMap<View["does"], { pens: View["pens"]; groups: Map<string, Doe[]> }>();
const RATIONS = new WeakMap<View["rations"], Map<string, Ration[]>>();
const FEEDINGS = new WeakMap<Feeding[], Map<string, Feeding[]>>();
const INTAKES = new WeakMap<Intake[], Map<string, Intake>>();

function kept<P extends object, T>(memo: WeakMap<P, T>, part: P, work: () => T): T {
  let found = memo.get(part);
  if (found === undefined) memo.set(part, (found = work()));
  return found;
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
  const { does, pens } = view;
  if (DOES.get(does)?.pens !== pens) DOES.delete(does);
  const here = () =>
    Object.values(does)
      .filter((doe) => !doe.left_on)
      .sort(inOrder);
  const { groups } = kept(DOES, does, () => ({
    pens, groups: grouped(here(), (doe) => (pens[doe.pen] ? doe.pen : "")),
  }));
  return groups.get(pen) ?? [];
}

export function rationsOf(view: View, subject: string): Ration[] {
  return (
    kept(RATIONS, view.rations, () => grouped(Object.values(view.rations), (ration) => ration.subject)).get(subject) ??
    []
  );
}

/** Who has not left the herd. */
export const herdOf = ({ does }: View): Doe[] => Object.values(does).filter(({ left_on }) => !left_on);

/** The meals at which somebody who is here gets something on a day. */
export function mealsPlanned({ rations, pens, does }: View, on: string): string[] {
  const here = ({ subject }: Ration) => subject in pens || (subject in does && !does[subject]!.left_on);
  const running = Object.values(rations).filter((ration) => here(ration) && amount_on(ration.steps, on) > 0);
  return [...new Set(running.map(({ slot }) => slot))];
}

/**
 * What the plan says for a pen and its does in one slot: [doe or "", feed, grams]. An amount under question stays at
 * what was last fed.
 */
export function planned(ctx: Context, pen: string, slot: string): FeedLine[] {
  if (pen) return plan_lines(ctx, pen, ctx.day, slot);
  return doesIn(ctx.view, "").flatMap(({ id }) =>
    subject_lines(ctx, id, ctx.day, slot).map(([feed, g]): FeedLine => [id, feed, g]),
  );
}

export function fedIn(view: View, pen: string, on: string, slot: string): Feeding[] {
  return (
    kept(FEEDINGS, view.feedings, () => grouped(view.feedings, mealKey)).get(mealKey({ subject: pen, on, slot })) ?? []
  );
}

/** The last thing said of each at one meal. */
export function saidAt(view: View, on: string, slot: string): Map<string, Intake> {
  return new Map(
    view.intakes.filter((each) => each.on === on && each.slot === slot).map((each) => [each.subject, each]),
  );
}

export function intakeOf(view: View, doe: string, on: string, slot: string): Intake | undefined {
  const { intakes } = view;
  return kept(INTAKES, intakes, () => new Map(intakes.map((each) => [mealKey(each), each]))).get(
    mealKey({ subject: doe, on, slot }),
  );
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
  return [...groups]
    .sort(([a], [b]) => place(a) - place(b))
    .map(([group, items]) => ({ group, items: items.sort((a, b) => (a.name < b.name ? -1 : 1)) }));
}
