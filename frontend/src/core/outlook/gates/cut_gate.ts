import { div } from "../../base/ints.ts";
import { day_sums, late_on, permille, window } from "../balance/balance.ts";
import { cut_between, with_her_milk } from "../balance/grain.ts";
import type { Sums } from "../ground/shapes.ts";
import { WEEK_D } from "../../tables/numbers.ts";
import type { Both, Finding } from "./change.ts";

/** Late, a plan that falls relative to her need. A dry-off, where both come down, passes. */
export function cut_findings({ now, then, days }: Both, id: string): Finding[] {
  const today = day_sums(now, id, now.day, true);
  const week = window(now, id, WEEK_D);
  const held: Sums & { days: number } = week.days ? week : { ...(today ?? week), days: today?.offered_me ? 1 : 0 };
  if (!held.days) return [];
  for (const on of days) {
    if (!late_on(now, id, on)) continue;
    const [before, after] = [day_sums(now, id, on, true), day_sums(then, id, on, true)];
    if (!before || !after || after.offered_me >= before.offered_me) continue;
    if (!with_her_milk(now, id, on, after) && cut_between(now, held, after)) {
      const less = 1000 - permille(after.offered_me, div(held.offered_me, held.days));
      return [{ code: "late_cut", on, does: [id], args: { less_pm: less } }];
    }
  }
  return [];
}
