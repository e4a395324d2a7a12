import { div, mod, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import type { Feeding, Intake } from "../../state/view.ts";
import { SLOTS, type Context } from "../ground/context.ts";
import { is_forage, is_grain } from "../ground/feed_classes.ts";
import { appetite_on } from "./needs.ts";
import { lines_of } from "./plan.ts";
import type { Eaten, FeedLine } from "../ground/shapes.ts";

/** Who ate what: stand lines are hers; a pen's shared feed is divided by remaining appetite. */
export type Lines = FeedLine[];
type Grams = Record<string, number>;

/** What one call works on: a pen, a date, from confirmed feedings or from the plan. */
interface Table {
  ctx: Context;
  pen: string;
  on: string;
  planned: boolean;
  does: string[];
  room: Grams;
  eaten: Record<string, Eaten>;
}

export function nothing(): Eaten {
  return { dm: {}, own: {}, offered: {}, unweighed: {}, slots: [], meal_g: 0, day_g: 0 };
}

/** {doe: what she ate}. Worked once per pen and day. */
export function share_day(ctx: Context, pen: string, on: string, planned: boolean): Record<string, Eaten> {
  return ctx.memo[planned ? "planned" : "eaten"].once(pen, on, () => share(ctx, pen, on, planned));
}

function share(ctx: Context, pen: string, on: string, planned: boolean): Record<string, Eaten> {
  const does = ctx.pen_mates(pen, on);
  const room = Object.fromEntries(does.map((id) => [id, appetite_on(ctx, id, on)]));
  const eaten = Object.fromEntries(does.map((id) => [id, nothing()]));
  const at: Table = { ctx, pen, on, planned, does, room, eaten };
  const plans = planned ? plans_of(at) : [];
  for (const slot of SLOTS) {
    const [lines, most] = planned ? planned_lines(plans, slot) : confirmed_lines(at, slot);
    for (const id of does) eat_own(at, id, slot, lines, most);
    const shared = lines.get("");
    if (shared) eat_shared(at, slot, shared);
  }
  return eaten;
}

type Targets = Map<string, Lines>;

type Plans = [to: string, by_slot: Map<string, Lines>][];

/** Of the day, by whom they are for. */
function plans_of({ ctx, pen, on, does }: Table): Plans {
  const own = Object.hasOwn(ctx.view.does, pen) ? [] : does;
  return [["", lines_of(ctx, pen, on)], ...own.map((id): Plans[number] => [id, lines_of(ctx, id, on)])];
}

/** As `plan_lines` has them, by whom they are for. */
function planned_lines(plans: Plans, slot: string): [Targets, Targets] {
  const lines: Targets = new Map();
  for (const [to, by_slot] of plans) {
    const planned = by_slot.get(slot);
    if (planned) lines.set(to, planned);
  }
  return [lines, lines];
}

/** Whose meals: of which pen, on which date, with which does in it. */
type Feeder = Pick<Table, "ctx" | "pen" | "on" | "does">;

/** Lines counted toward need and lines counted against limits: of a double feeding the smaller, the larger. */
export function confirmed_lines(at: Feeder, slot: string): [Targets, Targets] {
  const sets = new Map<string, Lines[]>();
  const extra: Targets = new Map();
  for (const feeding of at.ctx.feedings.get(at.on) ?? []) {
    if (feeding.slot !== slot) continue;
    for (const [target, lines] of reached(at, feeding)) {
      if (feeding.adds) extend(extra, target, lines);
      else sets.set(target, [...(sets.get(target) ?? []), lines]);
    }
  }
  const [least, most]: [Targets, Targets] = [new Map(), new Map()];
  for (const target of new Set([...sets.keys(), ...extra.keys()])) {
    const ranked = by_weight(at.ctx, sets.get(target) ?? [[]]);
    least.set(target, [...ranked[0]!, ...(extra.get(target) ?? [])]);
    most.set(target, [...ranked.at(-1)!, ...(extra.get(target) ?? [])]);
  }
  return [least, most];
}

function reached({ pen, does }: Feeder, feeding: Feeding): Targets {
  const mine: Targets = new Map();
  for (const [to, feed, g] of feeding.lines) {
    const target = to || (feeding.subject === pen ? "" : feeding.subject);
    if (does.includes(target) || (target === "" && feeding.subject === pen)) extend(mine, target, [[feed, g]]);
  }
  return mine;
}

function by_weight(ctx: Context, sets: Lines[]): Lines[] {
  if (sets.length < 2) return sets;
  const weight = (lines: Lines) => sum(lines.map(([feed, g]) => dry_g(ctx, feed, g)));
  return [...sets].sort((a, b) => weight(a) - weight(b));
}

/** Grams of dry matter in grams as fed; 0 where that is not known, which `unweighed` keeps. */
export function dry_g(ctx: Context, feed_id: string, g: number): number {
  const feed = ctx.feed(feed_id);
  return feed?.dm_pm ? div(g * feed.dm_pm, 1000) : 0;
}

/** Dry-grain equivalent of concentrate lines: their dry matter at the dry matter of grain. */
export function grain_g(ctx: Context, lines: Lines): number {
  let total = 0;
  for (const [feed_id, g] of lines) {
    if (is_grain(ctx.feed(feed_id))) total += div(dry_g(ctx, feed_id, g) * 1000, ctx.rule("grain_dm_pm"));
  }
  return total;
}

function eat_own(at: Table, id: string, slot: string, lines: Targets, most: Targets): void {
  if (!lines.has(id) && !lines.has("")) return;
  const { ctx, on, planned } = at;
  const eaten = at.eaten[id]!;
  eaten.slots.push(slot);
  for (const [feed, g] of lines.get(id) ?? []) {
    const left_pm = planned ? 0 : left_of(ctx, id, on, slot, feed);
    if (!ctx.feed(feed)?.dm_pm) more(eaten.unweighed, feed, div(g * (1000 - left_pm), 1000));
    const offered = dry_g(ctx, feed, g);
    const dry = div(offered * (1000 - left_pm), 1000);
    more(eaten.dm, feed, dry);
    more(eaten.own, feed, dry);
    more(eaten.offered, feed, offered);
  }
  // grain in a feeder for many is no less grain: a head's part of it, at the least
  const of_all = div(grain_g(ctx, most.get("") ?? []), at.does.length);
  const meal = grain_g(ctx, most.get(id) ?? []) + of_all;
  eaten.meal_g = Math.max(eaten.meal_g, meal);
  eaten.day_g += meal;
}

function eat_shared(at: Table, slot: string, lines: Lines): void {
  const weights = weights_of(at, slot);
  const space = sum(Object.values(weights));
  const offered = offered_of(at, slot, lines);
  const total = sum(Object.values(offered));
  // nobody can say who had room for it
  for (const [feed, g] of lines) if (!at.ctx.feed(feed)?.dm_pm) by_heads(at, "unweighed", feed, g);
  for (const feed of Object.keys(offered).sort(compareText)) {
    // a doe whose appetite falls is not offered less
    by_heads(at, "offered", feed, offered[feed]!);
    const gone = total <= space ? offered[feed]! : div(offered[feed]! * space, total);
    const shares = largest_remainder(gone, liked(at, weights, feed));
    for (const id of at.does) more(at.eaten[id]!.dm, feed, shares[id]!);
  }
}

/** What is left over goes to the first: they are sorted by id. */
function by_heads({ does, eaten }: Table, part: "offered" | "unweighed", feed: string, g: number): void {
  const each = div(g, does.length);
  const rest = g - each * does.length;
  for (let i = 0; i < does.length; i++) more(eaten[does[i]!]![part], feed, i < rest ? each + 1 : each);
}

/** Nobody has room for a feed she leaves. */
function liked({ ctx, does }: Table, weights: Grams, feed: string): Grams {
  if (!does.some((id) => leaves(ctx, id, feed))) return weights;
  return Object.fromEntries(does.map((id) => [id, leaves(ctx, id, feed) ? 0 : weights[id]!]));
}

function weights_of({ ctx, on, planned, does, room, eaten }: Table, slot: string): Grams {
  const weights: Grams = {};
  for (const id of does) {
    const off = !planned && left_of(ctx, id, on, slot, "") >= 1000;
    weights[id] = off ? 0 : Math.max(0, room[id]! - sum(Object.values(eaten[id]!.dm)));
  }
  return weights;
}

function offered_of({ ctx, pen, on, planned }: Table, slot: string, lines: Lines): Grams {
  const offered: Grams = {};
  for (const [feed, g] of lines) {
    const left_pm = planned ? 0 : left_of(ctx, pen, on, slot, feed);
    const dry = div(dry_g(ctx, feed, g) * (1000 - waste_pm(ctx, pen, feed)), 1000);
    more(offered, feed, div(dry * (1000 - left_pm), 1000));
  }
  return offered;
}

/** She is known to leave the feed, or the feed it is a lot of. */
export function leaves(ctx: Context, id: string, feed_id: string): boolean {
  const listed = ctx.doe(id).f["wont_eat"];
  return Array.isArray(listed) && (listed.includes(feed_id) || listed.includes(ctx.feed(feed_id)?.of ?? ""));
}

/** Share of shared forage that the feeder wastes: the pen's own figure, or the herd rule's; none where it grows. */
export function waste_pm(ctx: Context, pen: string, feed_id: string): number {
  const feed = ctx.feed(feed_id);
  if (!feed || !is_forage(feed) || feed.grazed) return 0;
  const own = ctx.view.pens[pen]?.f["waste_pm"];
  return typeof own === "number" && own > 0 ? own : ctx.rule("waste_pm");
}

const ABOUT_LEFT = new Set(["ate_all", "left_some", "refused"]);

/** Share left of a meal, permille: the last thing said about that feed, or about the whole meal. */
export function left_of(ctx: Context, subject: string, on: string, slot: string, feed: string): number {
  let left = 0;
  for (const intake of ctx.intakes.get(on) ?? []) {
    const same = intake.subject === subject && intake.slot === slot && (intake.feed === "" || intake.feed === feed);
    if (same && ABOUT_LEFT.has(intake.how)) left = said_left(ctx, intake);
  }
  return Math.min(left, 1000);
}

/** Permille left; "left some" without a share counts as the herd rule's, which is judgement. */
export function said_left(ctx: Context, { how, left_pm }: Pick<Intake, "how" | "left_pm">): number {
  return how === "left_some" && left_pm === 0 ? ctx.rule_or_ours("left_unsaid_pm") : left_pm;
}

/** Whole-number shares of a total that add up to it exactly; ties go by id. */
export function largest_remainder(total: number, weights: Grams): Grams {
  const ids = Object.keys(weights);
  const whole = sum(Object.values(weights));
  const shares: Grams = {};
  let rest = whole ? total : 0;
  for (const id of ids) rest -= shares[id] = whole ? div(total * weights[id]!, whole) : 0;
  if (!rest) return shares;
  const left: Grams = {};
  for (const id of ids) left[id] = mod(total * weights[id]!, whole);
  const order = ids.sort((a, b) => left[b]! - left[a]! || compareText(a, b));
  for (const id of order.slice(0, rest)) shares[id]! += 1;
  return shares;
}

function more(grams: Grams, feed: string, g: number): void {
  grams[feed] = (grams[feed] ?? 0) + g;
}

function extend(targets: Targets, target: string, lines: Lines): void {
  targets.set(target, [...(targets.get(target) ?? []), ...lines]);
}
