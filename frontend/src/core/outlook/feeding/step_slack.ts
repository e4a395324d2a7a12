import { div } from "../../base/ints.ts";
import { once, type Context } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { measures_of } from "./measures.ts";
import { STEP_SCOOP_SLACK_PM } from "../../tables/numbers.ts";

/** How much over the limit a step may be that is no other step: a tenth, or a quarter of the scoop she is fed by. */
export function step_slack(ctx: Context, id: string, step_g: number): number {
  const tenth = div(step_g * ctx.rule_or_ours("step_slack_pm"), 1000);
  const most = div(step_g * STEP_SCOOP_SLACK_PM, 1000);
  return Math.max(tenth, Math.min(most, quarter_g(ctx, id)));
}

/** A quarter of the smallest scoop somebody weighed for a grain of hers; 0 without one. */
function quarter_g(ctx: Context, id: string): number {
  const grains = (ctx.plans.get(id) ?? []).map(({ feed }) => feed).filter((feed) => is_grain(ctx.feed(feed)));
  const least = Math.min(...grains.map((feed) => once(ctx.memo.scoop_g, feed, () => scoop_g(ctx, feed))));
  return isFinite(least) ? div(div(least, 2), 2) : 0;
}

/** The smallest that somebody weighed; Infinity without one. */
function scoop_g(ctx: Context, feed: string): number {
  const scoops = measures_of(ctx.view, feed, ctx.day, ctx.rule_or_ours("weigh_again_d"));
  return Math.min(...scoops.filter(({ of }) => of === "scoop").map(({ g }) => g));
}
