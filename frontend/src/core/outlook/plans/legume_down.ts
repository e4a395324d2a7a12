import { div, sum } from "../../base/ints.ts";
import { amount_on, place_key } from "../../state/planned.ts";
import type { Ration, Step } from "../../state/view.ts";
import { eaten_by_all, on_hand } from "../acts/on_hand.ts";
import { changes_of, type ActLine } from "../acts/shapes.ts";
import { found_between } from "../gates/gates.ts";
import { shift, type Context } from "../ground/context.ts";
import { is_forage } from "../ground/feed_classes.ts";
import { DRY_SWITCH_PARTS, ROUND_G } from "../../tables/numbers.ts";
import { given_to, stands_alone, unit_at, with_lines } from "./places.ts";

interface Down {
  lines: ActLine[];
  /** A feeder she shares that holds legume. */
  shared: string;
  feed: string;
}

/** What is legume and nothing else: a mixed hay cannot be picked apart. */
const legume = (ctx: Context, feed: string): boolean => ctx.feed(feed)?.class === "legume";

/** After her last milking, a part at a time, grass hay in its place as far as there is some. */
export function legume_down(ctx: Context, id: string, last_on: string): Down {
  const [unit, alone] = [unit_at(ctx, id), stands_alone(ctx, id)];
  const at_feeder = unit === id ? [] : given_to(ctx, unit);
  const rich = at_feeder.find(({ feed }) => legume(ctx, feed));
  const shared = alone || !rich ? "" : unit;
  const hay = [...given_to(ctx, id), ...(alone ? at_feeder : [])].filter(({ feed }) => is_forage(ctx.feed(feed)));
  const rows = hay.filter(({ feed }) => legume(ctx, feed));
  const start = later(shift(last_on, 1), shift(ctx.day, 1));
  const [all, had] = [total(hay, start), total(rows, start)];
  // at a feeder she shares what is in her own bowl is on top of all the hay she can eat
  const kept = alone ? Math.min(had, div(all * ctx.rule_or_ours("plan_legume_dry_pm"), 1000)) : 0;
  const less = had - kept;
  if (less < Math.max(...ROUND_G.forage)) return { lines: [], shared, feed: rows[0]?.feed ?? "" };
  const down = rows.flatMap((row) => line(ctx, row, start, -div(less * amount_on(row.steps, start), had)));
  const up = alone ? plainer(ctx, id, rows, start, less) : [];
  for (const lines of [[...down, ...up], down]) {
    if (lines.length && !found_between(ctx, with_lines(ctx, lines), changes_of(lines)).length)
      return { lines, shared, feed: rows[0]!.feed };
  }
  return { lines: [], shared, feed: rows[0]!.feed };
}

const later = (a: string, b: string): string => (a > b ? a : b);
const total = (rows: Ration[], on: string): number => sum(rows.map(({ steps }) => amount_on(steps, on)));

/** Grass she gets already, else what is on the farm, where the legume was. */
function plainer(ctx: Context, id: string, rows: Ration[], start: string, less: number): ActLine[] {
  const grass = on_hand(ctx).filter((feed) => ctx.feed(feed)!.class === "grass" && eaten_by_all(ctx, [id], feed));
  const places = rows.map(({ subject, slot }) => ({ subject, slot }));
  const held = (feed: string) => places.some(({ subject, slot }) => ctx.view.rations[place_key(subject, slot, feed)]);
  const feed = grass.find(held) ?? grass[0];
  if (!feed) return [];
  return places.flatMap(({ subject, slot }) => {
    const row = ctx.view.rations[place_key(subject, slot, feed)];
    const blank: Ration = { subject, slot, feed, steps: [], marks: [], hlc: "", ev: "" };
    return line(ctx, row ?? blank, start, div(less, places.length));
  });
}

/** So much more or less in equal parts over the days of the rule, in round grams. */
function line(ctx: Context, { subject, slot, feed, steps }: Ration, start: string, by_g: number): ActLine[] {
  const from_g = amount_on(steps, start);
  const span_d = Math.max(DRY_SWITCH_PARTS, ctx.rule_or_ours("legume_after_dry_off_d"));
  const round = Math.min(...ROUND_G.forage);
  const found: Step[] = [];
  let held = from_g;
  for (let part = 1; part <= DRY_SWITCH_PARTS; part++) {
    const g = from_g + Math.sign(by_g) * round * div(div(Math.abs(by_g) * part, DRY_SWITCH_PARTS), round);
    if (g !== held) found.push([shift(start, div(span_d * (part - 1), DRY_SWITCH_PARTS)), (held = Math.max(0, g))]);
  }
  const to = Object.hasOwn(ctx.view.does, subject) ? "doe" : "pen";
  return found.length ? [{ subject, to, slot, feed, from_g, steps: found }] : [];
}
