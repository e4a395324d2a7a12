import { div } from "../../base/ints.ts";
import type { Step } from "../../state/view.ts";
import type { Context } from "../ground/context.ts";
import type { Change } from "./change.ts";
import { gate, NOTHING_FOUND, type Gate } from "./gates.ts";

/** The herd rules' own steps for her, still ahead, shared over the feedings: `safe` is as much of them as passes. */
export function rule_steps(ctx: Context, { subject, feed, slots }: Omit<Change, "steps">): Gate {
  const ahead = (ctx.outlooks[subject]?.steps ?? []).filter(({ on }) => on > ctx.day);
  if (ahead.length === 0 || slots.length === 0) return NOTHING_FOUND;
  const steps = ahead.map(({ on, g }): Step => [on, div(g, slots.length)]);
  const judged = gate(ctx, { subject, feed, slots, steps });
  return judged.findings.length ? judged : { ...judged, safe: steps };
}
