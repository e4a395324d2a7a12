import { is_buck } from "../ground/branches.ts";
import { days_between, SLOTS, type Context } from "../ground/context.ts";
import { grain_planned } from "./plan.ts";
import type { Due } from "../ground/documents.ts";
import { CALENDAR_DAILY_D, CALENDAR_FRESH_D } from "../../tables/numbers.ts";

/**
 * The daily tap: a doe near kidding that gets no grain leaves nothing to read, so somebody has to look at her; and at a
 * fresh one.
 */

/**
 * In her last six weeks while her plan of the day holds no grain, without dates worked out by the calendar alone; and
 * fresh, whatever she gets: womb and udder go wrong behind a clean bowl.
 */
export function wants_tap(ctx: Context, id: string, due: Due | null): boolean {
  const doe = ctx.doe(id);
  if (is_fresh(ctx, id)) return true;
  return doe.bred !== null && !is_buck(doe) && near(ctx, id, doe.bred.from, due) && !grain_planned(ctx, id, ctx.day);
}

export function is_fresh(ctx: Context, id: string): boolean {
  const { kidded } = ctx.doe(id);
  const since = kidded && !is_buck(ctx.doe(id)) ? days_between(kidded.on, ctx.day) : -1;
  return since >= 0 && since <= CALENDAR_FRESH_D;
}

function near(ctx: Context, id: string, bred_from: string, due: Due | null): boolean {
  if (due) return days_between(ctx.day, due.early) <= ctx.rule_or_ours("daily_from_d");
  return days_between(bred_from, ctx.day) >= CALENDAR_DAILY_D[ctx.doe(id).f["size"] === "mini" ? "mini" : "standard"];
}

/** Slots of the day in which somebody said how she was. */
export function tapped(ctx: Context, id: string): string[] {
  const said = new Set(
    (ctx.intakes.get(ctx.day) ?? []).filter(({ subject }) => subject === id).map(({ slot }) => slot),
  );
  return ["", ...SLOTS].filter((slot) => said.has(slot));
}
