import type { Doe } from "../state/view.ts";
import { gestation_on } from "./balance.ts";
import { FRESH, GROWING, IN_MILK, WATCH, is_buck, slot_for } from "./branches.ts";
import { days_between, type Context } from "./context.ts";

/**
 * The stage that says how much a left meal means: by compiled phase and dates, by the calendar where there are none.
 */
export type Stage =
  "labour" | "last_weeks" | "late" | "early" | "fresh" | "peak" | "milk" | "open" | "doeling" | "buck";

const [LAST_WEEKS_D, LATE_DAY, PEAK_D, FRESH_D, CALENDAR_LAST_WEEKS_D, YOUNG_D] = [28, 100, 70, 21, 115, 730];

export function stage_of(ctx: Context, id: string): Stage {
  const doe = ctx.doe(id);
  if (is_buck(doe)) return "buck";
  const slot = slot_for(ctx, id, ctx.day);
  if (slot === null) return by_calendar(ctx, doe);
  const phase = slot[0].phase[slot[1]]!;
  if (phase === WATCH) return "labour";
  const gest = gestation_on(ctx, id, ctx.day);
  if (gest >= 0 && phase !== FRESH && phase !== IN_MILK) {
    if (days_between(ctx.day, ctx.outlooks[id]!.due!.early) <= LAST_WEEKS_D) return "last_weeks";
    return gest >= (ctx.rules["late_day"] ?? LATE_DAY) ? "late" : "early";
  }
  if (phase === FRESH) return "fresh";
  return phase === IN_MILK ? in_milk(ctx, doe) : phase === GROWING ? "doeling" : "open";
}

/** The first ten weeks draw calcium as nothing later does. */
function in_milk(ctx: Context, { kidded }: Doe): Stage {
  return kidded && days_between(kidded.on, ctx.day) <= PEAK_D ? "peak" : "milk";
}

/** On the careful side: a bred doe counts as near her time from day 115. */
function by_calendar(ctx: Context, doe: Doe): Stage {
  if (doe.bred) {
    const day = days_between(doe.bred.from, ctx.day);
    return day >= CALENDAR_LAST_WEEKS_D ? "last_weeks" : day >= LATE_DAY ? "late" : "early";
  }
  if (!doe.kidded) return young(ctx, doe) ? "doeling" : "open";
  if (days_between(doe.kidded.on, ctx.day) <= FRESH_D) return "fresh";
  return doe.dried_on ? "open" : in_milk(ctx, doe);
}

function young(ctx: Context, { f }: Doe): boolean {
  const born = f["born_on"];
  if (f["kiddings_before"]) return false;
  return f["growing"] === true || (typeof born === "string" && born !== "" && days_between(born, ctx.day) < YOUNG_D);
}
