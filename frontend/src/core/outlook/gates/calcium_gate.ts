import { day_sums, permille } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { thin_late } from "../balance/her_state.ts";
import type { Fed, Sums } from "../ground/shapes.ts";
import { energy_word } from "../verdict/energy_word.ts";
import { calcium_state, dense, late_calcium, line_for } from "../verdict/verdicts.ts";
import { CHOICES } from "../../tables/rules_offered.ts";
import type { Both, Finding } from "./change.ts";

/**
 * Calcium that swings in the last weeks: that falls, or rises far above need. A rise to need is never asked about.
 */
export function calcium_findings({ now, then, days }: Both, id: string): Finding[] {
  const today = day_sums(now, id, now.day, true);
  if (today === null || today.dm === 0) return [];
  for (const on of days) {
    if (!late_calcium(now, id, on) || past_due(now, id, on)) continue;
    const [before, after] = [day_sums(now, id, on, true), day_sums(then, id, on, true)];
    if (!before || !after || after.extra.ca || same(before, after)) continue;
    const pm = permille(after.got.ca, after.need.ca);
    if (falls(now, today, before, after, pm)) return [found("calcium_fall", on, id, today, pm)];
    // less of everything thickens it, and is no rise
    const more = pm > permille(today.got.ca, today.need.ca);
    if (more && soars(now, id, on, before, after)) return [found("calcium_rise", on, id, today, pm)];
  }
  return [];
}

function found(code: "calcium_fall" | "calcium_rise", on: string, id: string, today: Sums, then_pm: number): Finding {
  return { code, on, does: [id], args: { now_pm: permille(today.got.ca, today.need.ca), then_pm } };
}

const same = (a: Sums, b: Sums) => dense(a.got.ca, a.dm) === dense(b.got.ca, b.dm);
const past_due = (ctx: Context, id: string, on: string) => on > shift(ctx.outlooks[id]!.due!.late, 1);

/** More than the band below what she has today, with nothing to spare; or under need where it was not. */
function falls(ctx: Context, today: Sums, before: Sums, after: Sums, pm: number): boolean {
  if (ctx.rule_or_ours("calcium_before_kidding") === CHOICES.calcium_before_kidding.lower) return false;
  const [held, then] = [dense(today.got.ca, today.dm), dense(after.got.ca, after.dm)];
  if (then >= dense(before.got.ca, before.dm)) return false;
  const swings = then * 1000 < held * (1000 - ctx.rule("calcium_pm")) && pm < ctx.rule("calcium_swing_pm");
  const low = 1000 - ctx.rule("calcium_late_pm");
  return swings || (pm < low && permille(before.got.ca, before.need.ca) >= low);
}

function soars(ctx: Context, id: string, on: string, before: Fed, after: Fed): boolean {
  const state = (sums: Fed) =>
    calcium_state(ctx, id, sums, permille(sums.got.ca, sums.need.ca), on);
  const more = dense(after.got.ca, after.dm) > dense(before.got.ca, before.dm);
  return more && state(after) === "over" && state(before) !== "over" && !in_want(ctx, id);
}

/** Thin or short this late goes before calcium to spare. */
function in_want(ctx: Context, id: string): boolean {
  return thin_late(ctx, id) || energy_word(ctx, id, line_for(ctx, id, "me"))[0] === "short";
}
