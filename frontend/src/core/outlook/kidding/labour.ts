import { MIN_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { bred_key, is_buck } from "../ground/branches.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import type { Labour } from "../ground/shapes.ts";
import {
  CALENDAR_DUE_D, LABOUR_EARLY_D, LABOUR_SPREAD_D, PUSHING_MOST_MIN, SIGNS_HOLD_D, WATER_MOST_MIN,
} from "../../tables/numbers.ts";
import type { Rest } from "../../tables/off_feed.ts";

/**
 * Straining and the water bag: from then on minutes count, and all else waits. What is told here goes before a left
 * meal; when its time is up the phone itself says the vet (overdue.ts), since nothing here knows the clock.
 */

type Row = Doe["signs"][number];

export function labour_word(ctx: Context, id: string, down: boolean): Labour | null {
  const doe = ctx.doe(id);
  if (is_buck(doe)) return null;
  const rows = since_kid(lately(ctx, doe));
  const [pushes, water] = [first(rows, "straining"), first(rows, "water_bag")];
  const begun = pushes ?? water;
  if (!begun) return null;
  const why = at_once(ctx, id, rows, down);
  const until = [...until_ms(pushes, PUSHING_MOST_MIN), ...until_ms(water, WATER_MOST_MIN)];
  const rest = (why || (pushes ? "pushing" : "water")) as Rest;
  return {
    code: why ? "labour_vet" : "labour_now",
    args: {
      why: rest, on: begun[5], since_ms: begun[0], down, vet_at_ms: why ? 0 : Math.min(...until), rests: [rest],
      sign: pushes ? "straining" : "water_bag",
    },
  };
}

const until_ms = (row: Row | undefined, minutes: number) => (row ? [row[0] + minutes * MIN_MS] : []);

/** What cannot wait for a clock; a doe with no breeding on record is not called in labour. */
function at_once(ctx: Context, id: string, rows: Row[], down: boolean): string {
  const doe = ctx.doe(id);
  const fresh = doe.kidded !== null && days_between(doe.kidded.on, ctx.day) <= SIGNS_HOLD_D;
  if (!doe.bred) return fresh ? "after_kidding" : "not_bred";
  if (is_too_early(ctx, id)) return "too_early";
  return down ? "down" : fades(rows) ? "fades" : "";
}

/** Pushing was seen, and then no longer, with no kid out. */
function fades(rows: Row[]): boolean {
  const pushed = first(rows, "straining");
  return pushed !== undefined && rows.findLast(mentions("straining"))![2].includes("straining");
}

/** Signs of today and yesterday that were put down after her last kidding. */
export function lately(ctx: Context, { signs, kidded }: Doe): Row[] {
  const from = shift(ctx.day, -SIGNS_HOLD_D);
  return signs.filter(([at, , , , , on]) => on >= from && on <= ctx.day && (!kidded || at > kidded.at));
}

/** The clock starts anew with each kid. */
function since_kid(rows: Row[]): Row[] {
  return rows.slice(rows.findLastIndex(([, seen]) => seen.includes("kid_out")) + 1);
}

const first = (rows: Row[], sign: string) => rows.find(([, seen]) => seen.includes(sign));
export const mentions = (sign: string) => (row: Row) => row[1].includes(sign) || row[2].includes(sign);

/** So long before her time it is no kidding, but a loss. */
export function is_too_early(ctx: Context, id: string): boolean {
  return days_between(ctx.day, usual_date(ctx, id)) > LABOUR_EARLY_D;
}

/**
 * Her usual date, or the one that is printed where that comes first; of a doe bred over a window that of its first day,
 * and by the calendar where none was worked out.
 */
function usual_date(ctx: Context, id: string): string {
  const doe = ctx.doe(id);
  const outlook = ctx.outlooks[id];
  if (!outlook?.due || outlook.basis.bred !== bred_key(doe))
    return shift(doe.bred!.from, CALENDAR_DUE_D[doe.f["size"] === "mini" ? "mini" : "standard"]);
  const { early, mid, printed } = outlook.due;
  const usual = shift(early, Math.min(days_between(early, mid), LABOUR_SPREAD_D));
  return printed < usual ? printed : usual;
}
