import { dayOf } from "../base/days.ts";
import type { Doe } from "../state/view.ts";
import { PHASE } from "../tables/codes.ts";
import { FRESH_WATCH_D, LOOK_AGAIN_H, RISK_KIDS, SIGNS_HOLD_H } from "../tables/numbers.ts";
import type { Args, DoeResult, Nutrient } from "./shapes.ts";

/**
 * What stands where nothing is asked for. Near kidding and after it that is the watch, and never "nothing to do".
 */
export type Rest =
  | "level" | "short" | "over" | "drying_off" | "not_dried" | "many" | "close_up" | "watch" | "fresh" | "fresh_daily";

export interface Resting {
  code: Rest;
  args: Args;
}

const HOUR_MS = 3_600_000;
/** Seen for weeks before. */
const EARLY = new Set(["udder_full", "ligaments_soft"]);
const CLOSE = new Set(["pawing", "straining", "water_bag", "mucus_amber"]);
const NUTRIENTS: readonly Nutrient[] = ["me", "ca", "cp", "p"];

export function resting(result: DoeResult, doe: Doe, today: string, now_ms: number, late_day: number): Resting {
  const { phase, lines } = result;
  const since_d = doe.kidded && !doe.bred ? dayOf(today) - dayOf(doe.kidded.on) : -1;
  const watched = phase === PHASE.kidding_watch || signs_of(doe, now_ms) !== "quiet";
  if (watched && doe.bred) return { code: "watch", args: watch_args(doe, now_ms) };
  if (phase === PHASE.fresh || (since_d >= 0 && since_d <= FRESH_WATCH_D))
    return { code: since_d <= FRESH_WATCH_D ? "fresh" : "fresh_daily", args: { since_d } };
  const short = NUTRIENTS.filter((key) => lines[key]?.st === "short");
  const code = of_phase(phase, doe, result.gest >= late_day) ?? (short.length ? "short" : null);
  return { code: code ?? (lines["me"]?.st === "over" ? "over" : "level"), args: { short } };
}

function of_phase(phase: number, { bred, check, kidded, dried_on }: Doe, late: boolean): Rest | null {
  if (bred && late && (check?.kids ?? 0) >= RISK_KIDS) return "many";
  if (phase === PHASE.close_up) return "close_up";
  if (phase === PHASE.drying_off) return "drying_off";
  // her dates say dry, and nobody has written down that she is
  return phase === PHASE.dry && bred && kidded && !dried_on ? "not_dried" : null;
}

/** When she was last looked at for signs, what they said, and when somebody should look again. */
function watch_args(doe: Doe, now_ms: number): Args {
  const signs = signs_of(doe, now_ms);
  const last_ms = doe.signs.at(-1)?.[0] ?? 0;
  const fresh = last_ms > 0 && now_ms - last_ms < SIGNS_HOLD_H * HOUR_MS;
  const next_ms = fresh ? last_ms + LOOK_AGAIN_H[signs] * HOUR_MS : 0;
  return { signs, hours: LOOK_AGAIN_H[signs], last_ms: fresh ? last_ms : 0, next_ms: next_ms > now_ms ? next_ms : 0 };
}

/** By the last look within a day. */
function signs_of(doe: Doe, now_ms: number): keyof typeof LOOK_AGAIN_H {
  const last = doe.signs.at(-1);
  if (!last || now_ms - last[0] >= SIGNS_HOLD_H * HOUR_MS) return "quiet";
  const seen = last[1].filter((sign) => !EARLY.has(sign));
  if (seen.some((sign) => CLOSE.has(sign))) return "close";
  return seen.length ? "signs" : "quiet";
}
