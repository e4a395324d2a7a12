import { div } from "../../base/ints.ts";
import { eaten_on } from "../balance/balance.ts";
import { grain_for_milk } from "../balance/grain.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { slot_for } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { legume_of } from "../balance/her_state.ts";
import { next_step } from "../feeding/plan.ts";
import type { Args, Said } from "../ground/shapes.ts";
import { PHASE } from "../../tables/codes.ts";
import { GRAIN_ROUND_G, STEPS_SAID_AHEAD_D } from "../../tables/numbers.ts";

/** Her next step: of her own plan, else of the herd rules, toward kidding and up again once she is fresh. */
export function steps_word(ctx: Context, id: string): Said | null {
  const step = next_step(ctx, id, STEPS_SAID_AHEAD_D);
  const beyond = step && beyond_milk(ctx, id, step[0]) ? { state: "milk" } : {};
  if (step) return said({ on: step[0], feed: step[1], now: step[2], then: step[3], rule: false, ...beyond });
  const due = ctx.outlooks[id]!.steps.find(({ on }) => {
    const days = days_between(ctx.day, on);
    return days >= 0 && days <= STEPS_SAID_AHEAD_D;
  });
  const planned = (ctx.plans.get(id) ?? []).some((ration) => ration.steps.at(-1)![0] > ctx.day);
  if (planned || by_plan(ctx, id)) return null;
  const next = ctx.doe(id).bred ? due && { ...due, state: "" } : fresh_step(ctx, id);
  if (!next) return null;
  // who missed a step makes it up by steps, never at once
  const now = Math.max(...[0, -1].map((back) => eaten_on(ctx, id, shift(ctx.day, back), back === 0).day_g));
  const then = Math.min(next.g, now + ctx.outlooks[id]!.limits.step_g);
  // a few grams are no step
  if (rounded(then) <= rounded(now)) return null;
  const { on, state } = next;
  const legume = legume_of(ctx, id);
  return said({ on, feed: "", now: rounded(now), then: rounded(then), rule: true, state, legume });
}

/** A whole plan was put in for this stretch of her year: where its steps end is where they were meant to. */
function by_plan(ctx: Context, id: string): boolean {
  const { kidded, bred } = ctx.doe(id);
  const [since, code] = bred ? [bred.from, "plan_close_up"] : [kidded?.on ?? "", "plan_fresh"];
  const grain = (ctx.plans.get(id) ?? []).filter(({ feed }) => is_grain(ctx.feed(feed)));
  return grain.some(({ marks }) => marks.at(-1)?.act === code && marks.at(-1)!.on >= since);
}

/** Put in before anybody knew how little she gives: its steps go on all the same. */
function beyond_milk(ctx: Context, id: string, on: string): boolean {
  if (ctx.doe(id).bred || !ctx.doe(id).kidded || !by_plan(ctx, id)) return false;
  const { limits } = ctx.outlooks[id]!;
  const g = eaten_on(ctx, id, on, true).day_g;
  return g > eaten_on(ctx, id, ctx.day, true).day_g && g > grain_for_milk(ctx, id).g + limits.step_g;
}

/** What she ate is reckoned to the gram, and nobody weighs by it. */
function rounded(g: number): number {
  return div(g + div(GRAIN_ROUND_G, 2), GRAIN_ROUND_G) * GRAIN_ROUND_G;
}

/** Where the rules raise a fresh doe above what she is planned to get. */
function fresh_step(ctx: Context, id: string): { on: string; g: number; state: string } | null {
  const slot = slot_for(ctx, id, ctx.day);
  if (slot === null || slot[0].phase[slot[1]] !== PHASE.fresh) return null;
  const [{ plan_grain_g }, i] = slot;
  for (let k = 1; k <= STEPS_SAID_AHEAD_D && i + k < plan_grain_g.length; k++) {
    const [on, g] = [shift(ctx.day, k), plan_grain_g[i + k]!];
    if (g > plan_grain_g[i + k - 1]!) return { on, g, state: "fresh" };
  }
  return null;
}

function said(args: Args): Said {
  return { code: "steps_ahead", args };
}
