import { HOUR_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { LOOK_AGAIN_H, SIGNS_HOLD_H } from "../../tables/numbers.ts";

/**
 * How long anybody may stay away from a doe near kidding, by each sign as it was last told: six hours with none, two
 * once there are some, one once she paws. Never that she will not kid.
 */
export interface NextLook {
  signs: keyof typeof LOOK_AGAIN_H;
  hours: number;
  /** The last look within a day, and when the next one falls due; 0 where nobody has looked, or it is due by now. */
  last_ms: number;
  next_ms: number;
}

/** Seen for weeks before. */
const EARLY = new Set(["udder_full", "ligaments_soft"]);
const CLOSE = new Set(["pawing", "straining", "water_bag", "mucus_amber"]);

export function next_look(signs: Doe["signs"], now_ms: number): NextLook {
  const rows = signs.filter(([at]) => now_ms - at < SIGNS_HOLD_H * HOUR_MS);
  const [told, last_ms] = [nearness(rows), rows.at(-1)?.[0] ?? 0];
  const hours = LOOK_AGAIN_H[told];
  const next_ms = last_ms + hours * HOUR_MS;
  return { signs: told, hours, last_ms, next_ms: last_ms && next_ms > now_ms ? next_ms : 0 };
}

/** A sign nobody mentions at the next look is still there. */
function nearness(rows: Doe["signs"]): NextLook["signs"] {
  const there = new Set<string>();
  for (const [, seen, absent] of rows) {
    for (const sign of absent) there.delete(sign);
    for (const sign of seen) if (!EARLY.has(sign)) there.add(sign);
  }
  return [...there].some((sign) => CLOSE.has(sign)) ? "close" : there.size ? "signs" : "quiet";
}
