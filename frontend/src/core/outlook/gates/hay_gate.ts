import { div, sum } from "../../base/ints.ts";
import { day_sums } from "../balance/balance.ts";
import { once, once_in, shift, type Context, type Kept } from "../ground/context.ts";
import { is_forage } from "../ground/feed_classes.ts";
import type { Both, Finding } from "./change.ts";

/** One forage giving way to another faster than a rumen follows. */
type Shares = Map<string, number>;

export function hay_findings(both: Both, id: string): Finding[] {
  const { now, then, days, changes } = both;
  return changes.some(({ feed }) => is_forage(now.feed(feed))) ? hay_switches(now, then, id, days) : [];
}

/** The first of the days on which her forage has changed too fast. */
function hay_switches(now: Context, then: Context, id: string, days: string[]): Finding[] {
  const switch_d = now.rule_or_ours("forage_switch_d");
  const [had, gets] = [shares_of(now, id), shares_of(then, id)];
  for (const on of days) {
    for (let back = 1; back < switch_d; back++) {
      const from = shift(on, -back);
      const pm = changed(gets(from), gets(on));
      if (pm > allowed(now, back, switch_d) && pm > changed(had(from), had(on))) {
        return [{ code: "hay_switch", on, does: [id], args: { part_pm: pm, days: switch_d } }];
      }
    }
  }
  return [];
}

/** A first part at once, and the rest evenly over the days of the rule. */
function allowed(ctx: Context, back: number, switch_d: number): number {
  const first = ctx.rule_or_ours("forage_switch_pm");
  return first + div((1000 - first) * (back - 1), Math.max(1, switch_d - 2));
}

/** Permille of her forage on one day that is of a kind she did not have on the other; 0 where one is not known. */
function changed(before: Shares, after: Shares): number {
  if (before.size === 0) return 0;
  let anew = 0;
  for (const [kind, pm] of after) anew += Math.max(0, pm - (before.get(kind) ?? 0));
  return anew;
}

const SHARES: Kept<Map<string, Shares>> = new WeakMap();

/** By day, each worked once. */
function shares_of(ctx: Context, id: string): (on: string) => Shares {
  const days = once_in(SHARES, ctx, id, () => new Map<string, Shares>());
  return (on) => once(days, on, () => shares(ctx, id, on));
}

/** Permille of her planned forage by kind; what grows is another kind than what was cut. */
function shares(ctx: Context, id: string, on: string): Shares {
  const grams: Shares = new Map();
  for (const [feed_id, g] of Object.entries(day_sums(ctx, id, on, true)?.dm_by ?? {})) {
    const feed = ctx.feed(feed_id);
    if (!is_forage(feed)) continue;
    const kind = `${feed!.class}|${feed!.grazed ?? 0}`;
    grams.set(kind, (grams.get(kind) ?? 0) + g);
  }
  const total = sum([...grams.values()]);
  return new Map(total ? [...grams].map(([kind, g]) => [kind, div(g * 1000, total)]) : []);
}
