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
import { held_score, milk_on } from "../feeding/needs.ts";
import { slot_for, standing } from "../ground/branches.ts";
import { DRY_FEWEST_STEPS, DRY_MILK_MOST_G, DRY_TAKEN_D, OTHER_DAY_FROM_D, WEEK_D } from "../../tables/numbers.ts";
import { unsaid_last } from "./last_milking.ts";
import { legume_down } from "./legume_down.ts";
import { tried_on_mates } from "./mates.ts";
import {
  as_she_stands, given_to, one_after_the_other, own_context, stands_alone, unit_at, with_lines,
} from "./places.ts";
import { NO_PLAN, type DryPlan, type Way } from "./shapes.ts";

/**
 * Grain first, then milkings, then legume: calcium follows milk down and never leads it. Nothing is done to her water.
 * Null for a doe that is not carrying, or has no milk to come to an end.
 */
export function dry_plan(ctx: Context, id: string, chosen?: { last_on: string; way: Way }): DryPlan | null {
  const [doe, from] = [ctx.doe(id), own_context(ctx)];
  const due = ctx.outlooks[id]?.due;
  if (!due || !to_dry(ctx, id)) return null;
  const [last_on, by] = last_day(ctx, id, chosen?.last_on);
  const way = chosen?.way ?? way_of(ctx, id);
  const fewer_d = way === "gradual" ? ctx.rule_or_ours("milkings_cut_d") : 0;
  const before = as_she_stands(ctx, id);
  const { lines: down, stops, after, keeps_g } = grain_down(with_lines(from, before), id, last_on, fewer_d);
  const grain = down.length ? one_after_the_other(before, down) : [];
  const { lines: less, shared, feed } = legume_down(with_lines(from, grain), id, last_on);
  const [thin, milk_g] = [is_thin(ctx, id), doe.dried_on ? 0 : milk_on(ctx, id, last_on)];
  const legume = thin ? [] : less;
  return {
    ...NO_PLAN, ...tried_on_mates(from, id, [...grain, ...legume]), code: "plan_dry", doe: id, way, stops,
    brings: eased(from, id, grain),
    last_on, by, shared, milk_g, keeps_g, thin: thin && less.length > 0, shared_grain: grain_beside(from, id),
    dry_d: days_between(last_on, due.early) - 1, milkings: milkings_of(last_on, fewer_d, ctx.day), after,
    much_milk: milk_g > DRY_MILK_MOST_G, from_g: eaten_on(ctx, id, shift(ctx.day, 1), true).day_g,
    grain: grain[0]?.feed ?? "", legume: feed,
  };
}

function to_dry(ctx: Context, id: string): boolean {
  const { bred, kidded } = ctx.doe(id);
  if (!bred || !kidded || standing(ctx, id) !== "ok") return false;
  return milk_on(ctx, id, ctx.day) > 0 || dried_lately(ctx, id) || unsaid_last(ctx.doe(id), ctx.day) !== "";
}

/** By a score that still counts; nothing rich is taken from her then. */
function is_thin(ctx: Context, id: string): boolean {
  const [score, slot] = [held_score(ctx, id), slot_for(ctx, id, ctx.day)];
  return score !== null && slot !== null && score.x100 < slot[0].band_lo[slot[1]]!;
}

/** Grain in a feeder that others eat from too. */
function grain_beside(ctx: Context, id: string): string {
  const unit = unit_at(ctx, id);
  if (unit === id || stands_alone(ctx, id)) return "";
  return given_to(ctx, unit).some(({ feed }) => is_grain(ctx.feed(feed))) ? unit : "";
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
  keeps_g: number;
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
  const alone = stands_alone(from, id) && unit_at(from, id) !== id ? given_to(from, unit_at(from, id)) : [];
  const grain = [...given_to(from, id), ...alone].filter(({ feed }) => is_grain(from.feed(feed)));
  let stops: Finding[] = [];
  for (const [first, last] of grain.length ? ways : []) {
    const [end, from_g] = [later(last, first), eaten_on(from, id, first, true).day_g];
    const keeps_g = Math.min(from_g, close_up_by(from, id, end));
    const lines = grain.flatMap((ration) => steps_down(from, ration, [first, end], [keeps_g, from_g]));
    const found = found_between(from, with_lines(from, lines), changes_of(lines));
    if (!found.length) return { lines, stops: [], after: last > last_on, keeps_g };
    stops = found;
  }
  return { lines: [], stops, after: false, keeps_g: 0 };
}

/**
 * What she would get by the steps of her close-up then, or soon after: who has no grain for a week or two has to learn
 * it anew, and late she would miss it.
 */
function close_up_by(ctx: Context, id: string, on: string): number {
  const { steps, limits } = ctx.outlooks[id]!;
  if (!steps[0] || days_between(on, steps[0].on) > WEEK_D) return 0;
  return steps.filter((step) => step.on <= on).at(-1)?.g ?? Math.min(limits.step_g, steps[0].g);
}

const later = (a: string, b: string): string => (a > b ? a : b);

/** By equal parts of her container to what she keeps, so many days apart as the herd's steps are. */
function steps_down(
  ctx: Context, { subject, slot, feed, steps }: Ration, [first, last]: [string, string], [keeps, of]: [number, number],
): ActLine[] {
  const g = amount_on(steps, first);
  if (!g) return [];
  const every_d = ctx.rule_or_ours("step_days");
  const n = Math.max(1, div(days_between(first, last), every_d) + 1);
  const part = parts_of(ctx, feed)[0] ?? { container_g: 1, parts: 1, by: "g" as const };
  const all = nearest_parts(part, g);
  const end = of ? nearest_parts(part, div(g * keeps + of - 1, of)) : 0;
  const down: Step[] = [];
  let held = g;
  for (let k = 1; k <= n; k++) {
    const next = grams_of(part, end + div(Math.max(0, all - end) * (n - k), n));
    if (next < held) down.push([shift(first, (k - 1) * every_d), (held = next)]);
  }
  const to = Object.hasOwn(ctx.view.does, subject) ? "doe" : "pen";
  return down.length ? [{ subject, to, slot, feed, from_g: g, steps: down }] : [];
}
