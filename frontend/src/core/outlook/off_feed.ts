import { compareText } from "../order.ts";
import type { Intake } from "../state/view.ts";
import { gestation_on } from "./balance.ts";
import { slot_for } from "./branches.ts";
import { days_between, shift, type Context } from "./context.ts";
import type { Said } from "./shapes.ts";

/** A left meal, a refusal, a slow morning or a doe that is not up, weighed by her stage. Twin of herd/outlook/off_feed.py. */
const WATCH_HOWS = new Set(["left_some", "refused", "slow", "not_up"]);
const LAST_WEEKS_D = 28;
const WATCH_PHASE = 7;
const [FRESH, IN_MILK] = [8, 9];

export type Stage = "labour" | "last_weeks" | "late" | "early" | "fresh" | "milk" | "open";

/** The off-feed prompt still open for her, or null. It never waits for sums or scores. */
export function off_feed_word(ctx: Context, id: string): Said | null {
  const open = open_ones(ctx, id);
  const last = open.at(-1);
  if (last === undefined) return null;
  const stage = stage_of(ctx, id);
  const { how, on, slot, left_pm } = last;
  return { code: code_for(how, stage, open.length), args: { how, on, slot, left_pm, stage, meals: open.length } };
}

function code_for(how: string, stage: Stage, meals: number): string {
  const close = stage === "last_weeks" || stage === "labour" || stage === "fresh";
  if (how === "not_up" || (close && how === "refused" && meals >= 2)) return "off_feed_vet";
  if (close || (how === "refused" && (stage === "late" || stage === "milk")) || meals >= 2) return "off_feed_now";
  return "off_feed_watch";
}

/** Her open exceptions of the last two days; a later "ate all", or a later clean feeding of her own, closes them. */
function open_ones(ctx: Context, id: string): Intake[] {
  const hers = two_days(ctx).flatMap((on) => ctx.intakes.get(on) ?? []).filter(({ subject }) => subject === id);
  const closed_at = Math.max(0, ...hers.filter(({ how }) => how === "ate_all").map(({ happened }) => happened));
  const found = hers.filter(({ how }) => WATCH_HOWS.has(how));
  found.sort((a, b) => a.happened - b.happened || compareText(a.ev, b.ev));
  const meals = new Map<string, Intake>();
  for (const intake of found) if (intake.happened > closed_at) meals.set(meal_of(intake), intake);
  const open = [...meals.values()];
  return open.length && fed_clean_since(ctx, id, open.at(-1)!) ? [] : open;
}

function fed_clean_since(ctx: Context, id: string, intake: Intake): boolean {
  return two_days(ctx).some((on) =>
    (ctx.feedings.get(on) ?? []).some(
      (feeding) =>
        feeding.happened > intake.happened && meal_of({ on, slot: feeding.slot }) !== meal_of(intake) &&
        feeding.lines.some(([to]) => to === id),
    ),
  );
}

function two_days(ctx: Context): string[] {
  return [shift(ctx.day, -1), ctx.day];
}

function meal_of({ on, slot }: { on: string; slot: string }): string {
  return `${on}|${slot}`;
}

/** By compiled phase and dates only. */
export function stage_of(ctx: Context, id: string): Stage {
  const slot = slot_for(ctx, id, ctx.day);
  if (slot === null) return stage_without_outlook(ctx, id);
  const phase = slot[0].phase[slot[1]]!;
  if (phase === WATCH_PHASE) return "labour";
  const gest = gestation_on(ctx, id, ctx.day);
  if (gest >= 0 && phase !== FRESH && phase !== IN_MILK) {
    if (days_between(ctx.day, ctx.outlooks[id]!.due!.early) <= LAST_WEEKS_D) return "last_weeks";
    return gest >= ctx.rule("late_day") ? "late" : "early";
  }
  return phase === FRESH ? "fresh" : phase === IN_MILK ? "milk" : "open";
}

/** By calendar alone, on the careful side: a bred doe counts as near her time from day 115. */
function stage_without_outlook(ctx: Context, id: string): Stage {
  const doe = ctx.doe(id);
  if (doe.bred) {
    const day = days_between(doe.bred.from, ctx.day);
    return day >= 115 ? "last_weeks" : day >= 100 ? "late" : "early";
  }
  if (!doe.kidded) return "open";
  if (days_between(doe.kidded.on, ctx.day) <= 21) return "fresh";
  return doe.dried_on ? "open" : "milk";
}
