import { compareText } from "../../events/order.ts";
import { amount_on } from "../../state/planned.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { case_of, type Case } from "./off_feed_case.ts";
import type { OneFeed, Said } from "../ground/shapes.ts";
import { NEW_FEED_D, ONE_FEED_DOES } from "../../tables/numbers.ts";

/**
 * Two off their feed within days of a new bag, bale or lot: one cause, for the whole herd, until shown otherwise.
 */
const found = new WeakMap<Context, OneFeed[]>();

export function one_feeds(ctx: Context): OneFeed[] {
  let all = found.get(ctx);
  if (all === undefined) found.set(ctx, (all = find(ctx)));
  return all;
}

/** The feed she, or the pen, shares with those off feed. */
export function one_feed_of(ctx: Context, id: string): OneFeed | null {
  return one_feeds(ctx).find(({ does }) => does.includes(id)) ?? null;
}

export function one_feed_word(cause: OneFeed | null): Said | null {
  return cause && { code: "feed_stop", args: { ...cause, rests: ["one_feed"] } };
}

/** Said to every pen that has one of them, or that eats of it. */
export function one_feed_of_pen(ctx: Context, pen: string, mates: string[]): OneFeed | null {
  const eats = (feed: string) => feed !== "" && [pen, ...mates].some((id) => planned(ctx, id, feed));
  return one_feeds(ctx).find(({ feed, does }) => does.some((id) => mates.includes(id)) || eats(feed)) ?? null;
}

function find(ctx: Context): OneFeed[] {
  const opened = openings(ctx);
  const asked = Object.values(ctx.view.does).some(({ triages }) => triages.some(({ new_feed }) => new_feed === "yes"));
  if (!opened.length && !asked) return [];
  const ids = Object.keys(ctx.view.does).filter((id) => ctx.here(id)).sort(compareText);
  const cases = ids.flatMap((id): [string, Case][] => {
    const open = case_of(ctx, id);
    return open ? [[id, open]] : [];
  });
  const named = opened.map(([feed, on]) => ({
    feed, on, does: cases.filter(([id, open]) => left_since(open, on) && eats_of(ctx, id, feed, on)).map(([id]) => id),
  }));
  const told = cases.filter(([, { looks }]) => looks.findLast(({ new_feed }) => new_feed !== "")?.new_feed === "yes");
  const unnamed = { feed: "", on: told[0] ? since_on(told[0][1]) : "", does: told.map(([id]) => id) };
  return [...named, unnamed].filter(({ does }) => does.length >= ONE_FEED_DOES);
}

/** Bags, bales and lots opened within days, the newest first. */
function openings(ctx: Context): [feed: string, on: string][] {
  const { bags, lots } = ctx.view;
  const all = [
    ...Object.entries(bags).flatMap(([feed, rows]) => rows.map(({ on }): [string, string] => [feed, on])),
    ...Object.values(lots).map(({ id, f }): [string, string] => [id, String(f["opened_on"] ?? "")]),
  ];
  const recent = all.filter(([, on]) => on !== "" && on <= ctx.day && days_between(on, ctx.day) <= NEW_FEED_D);
  return recent.sort((a, b) => compareText(b[1], a[1]) || compareText(a[0], b[0]));
}

function left_since(open: Case, on: string): boolean {
  return since_on(open) >= on;
}

function since_on({ meals }: Case): string {
  return meals.flat().reduce((first, one) => (one.on < first ? one.on : first), meals[0]![0]!.on);
}

/** It stands in her plan or her pen's, or somebody fed it to her since. */
function eats_of(ctx: Context, id: string, feed: string, on: string): boolean {
  const pen = ctx.doe(id).pen;
  const days = Array.from({ length: NEW_FEED_D + 1 }, (_, k) => shift(ctx.day, -k)).filter((day) => day >= on);
  const fed = days.flatMap((day) => ctx.feedings.get(day) ?? []);
  const hers = (subject: string, to: string) => (to || subject) === id || (to === "" && subject === pen);
  const given = fed.some(({ subject, lines }) =>
    lines.some(([to, of, g]) => of === feed && g > 0 && hers(subject, to)),
  );
  return given || planned(ctx, id, feed) || (pen !== "" && planned(ctx, pen, feed));
}

function planned(ctx: Context, subject: string, feed: string): boolean {
  return (ctx.plans.get(subject) ?? []).some((ration) => ration.feed === feed && amount_on(ration.steps, ctx.day) > 0);
}
