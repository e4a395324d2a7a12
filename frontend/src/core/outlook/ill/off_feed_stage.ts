import type { Doe } from "../../state/view.ts";
import { gestation_on, is_buck, slot_for } from "../ground/branches.ts";
import { is_fresh } from "../feeding/daily.ts";
import { PHASE } from "../../tables/codes.ts";
import { days_between, type Context } from "../ground/context.ts";
import { CALENDAR_FRESH_D, CALENDAR_LAST_WEEKS_D, LAST_WEEKS_D, PEAK_D, YOUNG_D } from "../../tables/numbers.ts";
import type { Stage } from "../../tables/off_feed.ts";
import { RULES } from "../../tables/rules.ts";

/**
 * The stage that says how much a left meal means: by compiled phase and dates, by the calendar where there are none.
 */
export const CLOSE = new Set<Stage>(["last_weeks", "labour", "fresh"]);

export function stage_of(ctx: Context, id: string): Stage {
  const doe = ctx.doe(id);
  if (is_buck(doe)) return "buck";
  const slot = slot_for(ctx, id, ctx.day);
  if (slot === null) return by_calendar(ctx, doe);
  const phase = slot[0].phase[slot[1]]!;
  if (phase === PHASE.kidding_watch) return "labour";
  const gest = gestation_on(ctx, id, ctx.day);
  if (gest >= 0 && phase !== PHASE.fresh && phase !== PHASE.in_milk) {
    if (days_between(ctx.day, ctx.outlooks[id]!.due!.early) <= LAST_WEEKS_D) return "last_weeks";
    return gest >= ctx.rule_or_ours("late_day") ? "late" : "early";
  }
  if (phase === PHASE.fresh || is_fresh(ctx, id)) return "fresh";
  return phase === PHASE.in_milk ? in_milk(ctx, doe) : phase === PHASE.growing ? "doeling" : "open";
}

/** The first weeks draw calcium as nothing later does. */
function in_milk(ctx: Context, { kidded }: Doe): Stage {
  return kidded && days_between(kidded.on, ctx.day) <= PEAK_D ? "peak" : "milk";
}

/** On the careful side: a bred doe counts as near her time early. */
function by_calendar(ctx: Context, doe: Doe): Stage {
  if (doe.bred) {
    const day = days_between(doe.bred.from, ctx.day);
    return day >= CALENDAR_LAST_WEEKS_D ? "last_weeks" : day >= RULES.late_day[0] ? "late" : "early";
  }
  if (!doe.kidded) return young(ctx, doe) ? "doeling" : "open";
  if (days_between(doe.kidded.on, ctx.day) <= CALENDAR_FRESH_D) return "fresh";
  return doe.dried_on ? "open" : in_milk(ctx, doe);
}

function young(ctx: Context, { f }: Doe): boolean {
  const born = f["born_on"];
  if (f["kiddings_before"]) return false;
  return f["growing"] === true || (typeof born === "string" && born !== "" && days_between(born, ctx.day) < YOUNG_D);
}
