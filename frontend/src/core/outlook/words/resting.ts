import { DAY_MS, dayOf } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { PHASE } from "../../tables/codes.ts";
import { FRESH_WATCH_D, RISK_KIDS, UNLOOKED_D } from "../../tables/numbers.ts";
import type { Signs } from "../ground/herd_figures.ts";
import { next_look } from "../ill/next_look.ts";
import { last_out_ms } from "../kidding/kidding.ts";
import { watch_dates, watch_look } from "../kidding/watch.ts";
import type { Args, DoeResult, Nutrient } from "../ground/shapes.ts";

/**
 * What stands where nothing is asked for. Near kidding and after it that is the watch, and never "nothing to do".
 */
export type Rest =
  | "level" | "short" | "over" | "drying_off" | "not_dried" | "many" | "close_up" | "watch" | "fresh" | "fresh_daily"
  | "gaining" | "slimming" | "on_act";

export interface Resting {
  code: Rest;
  args: Args;
}

const NUTRIENTS: readonly Nutrient[] = ["me", "ca", "cp", "p"];

/** What the next look near kidding hangs on besides her own: the tables of signs, the farm's limit, the minute. */
export interface Near {
  table: Signs | undefined;
  unattended_h: number;
  minute: number;
}

const NOBODY: Near = { table: undefined, unattended_h: 0, minute: 0 };

export function resting(
  result: DoeResult, doe: Doe, today: string, now_ms: number, late_day: number, near = NOBODY,
): Resting {
  const { phase, lines } = result;
  const since_d = since_kidding(doe, today, now_ms);
  if (is_watched(phase, doe, now_ms) || (since_d < 0 && phase < 0 && is_past(result, doe, today))) {
    const clock = { day: today, minute: near.minute, ms: now_ms };
    const look = watch_look(doe, { ...near, due: result.due, clock });
    return { code: "watch", args: { ...look, ...watch_dates(result.due, look.there, today) } };
  }
  if (phase === PHASE.fresh || (since_d >= 0 && since_d <= FRESH_WATCH_D))
    return { code: since_d <= FRESH_WATCH_D ? "fresh" : "fresh_daily", args: { since_d } };
  const [act] = result.on_acts;
  const more = (key: Nutrient) => result.on_acts.some(({ of, way }) => of === key && way === "up");
  const short = NUTRIENTS.filter((key) => lines[key]?.st === "short" && !more(key));
  const phased = of_phase(phase, doe, result.gest >= late_day);
  if (!phased && act) return { code: "on_act", args: { on: act.on, until: act.until, short } };
  const code = phased ?? on_her_way(result);
  return { code: code ?? of_lines(result, short), args: { short } };
}

/** Days since she kidded; the first of them where kids are out and nobody has written it down; -1 otherwise. */
function since_kidding(doe: Doe, today: string, now_ms: number): number {
  if (last_out_ms(doe, now_ms)) return 0;
  return doe.kidded && !doe.bred ? dayOf(today) - dayOf(doe.kidded.on) : -1;
}

/** By her days or by a sign somebody saw, which stays one until somebody looks again. */
export function is_watched(phase: number, doe: Doe, now_ms: number): boolean {
  const { signs, last_ms } = next_look(doe.signs, now_ms);
  const told = signs !== "quiet" && now_ms - last_ms < UNLOOKED_D * DAY_MS;
  return (phase === PHASE.kidding_watch || told) && doe.bred !== null && !last_out_ms(doe, now_ms);
}

/** So long past her usual date that nothing is worked out for her feed: her dates, and the watch, still hold. */
function is_past({ due }: DoeResult, { bred }: Doe, today: string): boolean {
  return bred !== null && due !== null && due.early <= today;
}

function of_lines({ lines }: DoeResult, short: Nutrient[]): Rest {
  if (short.length) return "short";
  return lines["me"]?.st === "over" ? "over" : "level";
}

/** Her score asks for what is being done; until the next one there is nothing to add. */
function on_her_way({ awaited }: DoeResult): Rest | null {
  return awaited && (awaited.way === "up" ? "gaining" : "slimming");
}

function of_phase(phase: number, { bred, check, kidded, dried_on }: Doe, late: boolean): Rest | null {
  if (bred && late && (check?.kids ?? 0) >= RISK_KIDS) return "many";
  if (phase === PHASE.close_up) return "close_up";
  if (phase === PHASE.drying_off) return "drying_off";
  // her dates say dry, and nobody has written down that she is
  return phase === PHASE.dry && bred && kidded && !dried_on ? "not_dried" : null;
}
