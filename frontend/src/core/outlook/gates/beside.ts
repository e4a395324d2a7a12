import { amount_on, place_key } from "../../state/planned.ts";
import type { Step } from "../../state/view.ts";
import { day_sums, permille } from "../balance/balance.ts";
import type { Context } from "../ground/context.ts";
import { is_grain, is_legume } from "../ground/feed_classes.ts";
import { leaves } from "../feeding/sharing.ts";
import { BESIDE_MOST, ROUND_G } from "../../tables/numbers.ts";
import { reached, with_change, type Change, type Finding } from "./change.ts";
import type { Path } from "./safe_steps.ts";

/** So much of a legume at each of those feedings, and the steps of the grain that pass with it. */
export interface Beside {
  feed: string;
  g: number;
  safe: Step[];
}

type Tried = Path & { left: Finding[] };

/** What stands for the calcium that grain takes: the least legume that passes, and the grain once it is in. */
export function legume_beside(
  ctx: Context, change: Change, tried: Tried[], passes: (ctx: Context, change: Change) => boolean,
): Beside | null {
  const path = tried.find(({ left }) => left.every(({ code }) => code === "calcium_fall"));
  if (!path || !is_grain(ctx.feed(change.feed))) return null;
  const { steps } = path;
  for (const feed of legumes(ctx, change)) {
    for (const g of amounts(ctx, change, feed)) {
      const legume: Change = { ...change, feed, steps: [[steps[0]![0], g]] };
      const with_it = with_change(ctx, legume);
      if (!passes(ctx, legume) || !passes(with_it, { ...change, steps })) continue;
      return too_much(with_it, { ...change, steps }) ? null : { feed, g, safe: steps };
    }
  }
  return null;
}

/** More energy than they need is no answer to too little calcium. */
function too_much(ctx: Context, change: Change): boolean {
  const then = with_change(ctx, change);
  return reached(ctx, change.subject).some((id) => {
    const sums = day_sums(then, id, change.steps.at(-1)![0], true);
    return sums !== null && permille(sums.got.me, sums.need.me) > 1000 + ctx.rule("level_pm");
  });
}

/** Fed already, else on the farm; none that one of them leaves. */
function legumes(ctx: Context, { subject }: Change): string[] {
  const does = reached(ctx, subject);
  const fed = Object.values(ctx.view.rations).filter(({ steps }) => amount_on(steps, ctx.day) > 0);
  const { lots, feeds } = ctx.view;
  const known = new Set([...fed.map(({ feed }) => feed), ...Object.keys(lots), ...Object.keys(feeds)]);
  return [...known].filter((feed) => is_legume(ctx.feed(feed)) && !does.some((id) => leaves(ctx, id, feed)));
}

/** More than stands at any of the feedings, by round grams. */
function amounts(ctx: Context, { subject, slots }: Change, feed: string): number[] {
  const round = Math.max(...ROUND_G.forage);
  const held = slots.map((slot) => amount_on(ctx.view.rations[place_key(subject, slot, feed)]?.steps ?? [], ctx.day));
  return Array.from({ length: BESIDE_MOST }, (_, k) => Math.max(...held) + (k + 1) * round);
}
