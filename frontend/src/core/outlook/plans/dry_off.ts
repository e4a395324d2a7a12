import { div } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import { amount_on } from "../../state/planned.ts";
import type { Ration, Step } from "../../state/view.ts";
import { changes_of, type ActLine } from "../acts/shapes.ts";
import { grams_of, nearest_parts, parts_of } from "../acts/containers.ts";
import { found_between } from "../gates/gates.ts";
import type { Finding } from "../gates/change.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { day_sums, eaten_on, permille } from "../balance/balance.ts";
import { milk_on } from "../feeding/needs.ts";
import { standing } from "../ground/branches.ts";
import { DRY_FEWEST_STEPS, DRY_MILK_MOST_G, DRY_TAKEN_D, OTHER_DAY_FROM_D } from "../../tables/numbers.ts";
import { legume_down } from "./legume_down.ts";
import { given_to, own_context, with_lines } from "./places.ts";
import { NO_PLAN, type DryPlan, type Way } from "./shapes.ts";

/**
 * Grain first, then milkings, then legume: calcium follows milk down and never leads it. Nothing is done to her water.
 * Null for a doe that is not carrying, or has no milk to come to an end.
 */
export function dry_plan(ctx: Context, id: string, chosen?: { last_on: string; way: Way }): DryPlan | null {
  const [doe, from] = [ctx.doe(id), own_context(ctx)];
  const due = ctx.outlooks[id]?.due;
  const milks = doe.kidded !== null && (milk_on(ctx, id, ctx.day) > 0 || dried_lately(ctx, id));
  if (!doe.bred || !due || !milks || standing(ctx, id) !== "ok") return null;
  const [last_on, by] = last_day(ctx, id, chosen?.last_on);
  const way = chosen?.way ?? way_of(ctx, id);
  const fewer_d = way === "gradual" ? ctx.rule_or_ours("milkings_cut_d") : 0;
  const { lines: grain, stops, after } = grain_down(from, id, last_on, fewer_d);
  const { lines: legume, shared, feed } = legume_down(with_lines(from, grain), id, last_on);
  const milk_g = doe.dried_on ? 0 : milk_on(ctx, id, last_on);
  return {
    ...NO_PLAN, code: "plan_dry", doe: id, lines: [...grain, ...legume], brings: eased(from, id, grain), stops, way,
    last_on, by, shared, milk_g,
    dry_d: days_between(last_on, due.early) - 1, milkings: milkings_of(last_on, fewer_d, ctx.day), after,
    much_milk: milk_g > DRY_MILK_MOST_G, from_g: eaten_on(ctx, id, shift(ctx.day, 1), true).day_g,
    grain: grain[0]?.feed ?? "", legume: feed,
  };
}

/** Her grain falls before her milk does, and is to. */
function eased(from: Context, id: string, lines: ActLine[]): DryPlan["brings"] {
  const by_on = lines.flatMap(({ steps }) => steps.map(([on]) => on)).sort(compareText).at(-1);
  if (!by_on) return null;
  const pm = (ctx: Context) => {
    const sums = day_sums(ctx, id, by_on, true);
    return sums ? permille(sums.got.me, sums.need.me) : 0;
  };
  const [from_pm, to_pm] = [pm(from), pm(with_lines(from, lines))];
  return to_pm < from_pm ? { of: "me", from_pm, to_pm, by_on } : null;
}

/** Dried off so lately that her hay may still have to come down. */
function dried_lately(ctx: Context, id: string): boolean {
  const { dried_on } = ctx.doe(id);
  return dried_on !== "" && days_between(dried_on, ctx.day) <= DRY_TAKEN_D;
}

/** Dried off already; else her owner's day, the herd's from the earliest service, or as soon as her feed allows. */
function last_day(ctx: Context, id: string, chosen = ""): [on: string, by: DryPlan["by"]] {
  const { dried_on, dry_plan: own, bred, f } = ctx.doe(id);
  if (dried_on) return [dried_on, "own"];
  if (chosen || own) return [chosen || own!.last_on, "own"];
  const size = f["size"] === "mini" ? "mini" : "standard";
  const by_rule = shift(bred!.from, ctx.rule_or_ours(`dry_off_day_${size}`) - 1);
  if (by_rule > ctx.day) return [by_rule, "rule"];
  return [shift(ctx.day, ctx.rule_or_ours("dry_off_taper_d") - 1), "late"];
}

function way_of(ctx: Context, id: string): Way {
  const own = ctx.doe(id).dry_plan?.way;
  if (own === "gradual" || own === "abrupt") return own;
  return ctx.rule_or_ours("dry_off_way") ? "abrupt" : "gradual";
}

/** Once a day, and every other day in the second half where there is time for both. */
function milkings_of(last_on: string, fewer_d: number, today: string): DryPlan["milkings"] {
  if (!fewer_d || last_on < today) return [];
  const from = (days: number) => later(shift(last_on, 1 - days), today);
  const once: DryPlan["milkings"] = [[from(fewer_d), "once"]];
  return fewer_d < OTHER_DAY_FROM_D ? once : [...once, [from(div(fewer_d, 2)), "other_day"]];
}

interface GrainDown {
  lines: ActLine[];
  stops: Finding[];
  /** Not before her milk has stopped. */
  after: boolean;
}

/** Down before her milkings are cut; where that would take too much of her too early, along with them, or after. */
function grain_down(from: Context, id: string, last_on: string, fewer_d: number): GrainDown {
  const taper_d = from.rule_or_ours("dry_off_taper_d");
  const start = later(shift(last_on, 1 - taper_d), shift(from.day, 1));
  // a milker's grain does not go in a step or two
  const least_d = (DRY_FEWEST_STEPS - 1) * from.rule_or_ours("step_days");
  const ends = [...new Set([shift(last_on, -fewer_d), last_on])].filter((on) => days_between(start, on) >= least_d);
  const week_on = shift(last_on, div(taper_d, 2));
  const ways: [string, string][] = [
    ...[...ends, week_on].map((end): [string, string] => [start, end]),
    [later(shift(last_on, 1 - fewer_d), start), week_on], [later(shift(last_on, 1), start), shift(last_on, taper_d)],
  ];
  const grain = given_to(from, id).filter(({ feed }) => is_grain(from.feed(feed)));
  let stops: Finding[] = [];
  for (const [first, last] of grain.length ? ways : []) {
    const lines = grain.flatMap((ration) => steps_down(from, ration, first, later(last, first)));
    const found = found_between(from, with_lines(from, lines), changes_of(lines));
    if (!found.length) return { lines, stops: [], after: last > last_on };
    stops = found;
  }
  return { lines: [], stops, after: false };
}

const later = (a: string, b: string): string => (a > b ? a : b);

/** By equal parts of her container to nothing, so many days apart as the herd's steps are. */
function steps_down(ctx: Context, { subject, slot, feed, steps }: Ration, first: string, last: string): ActLine[] {
  const g = amount_on(steps, first);
  if (!g) return [];
  const every_d = ctx.rule_or_ours("step_days");
  const n = Math.max(1, div(days_between(first, last), every_d) + 1);
  const part = parts_of(ctx, feed)[0];
  const all = part ? nearest_parts(part, g) : 0;
  const down: Step[] = [];
  let held = g;
  for (let k = 1; k <= n; k++) {
    const next = k === n ? 0 : part ? grams_of(part, div(all * (n - k), n)) : div(g * (n - k), n);
    if (next < held) down.push([shift(first, (k - 1) * every_d), (held = next)]);
  }
  return down.length ? [{ subject, to: "doe", slot, feed, from_g: g, steps: down }] : [];
}
