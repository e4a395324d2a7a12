import { HOUR_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { EASED_H, FELT_HOLD_H, LOOK_AGAIN_H, SIGNS_HOLD_H } from "../../tables/numbers.ts";

/**
 * How long anybody may stay away from a doe near kidding, by each sign as it was last told: six hours with none, two
 * once there are some or were lately, one once she paws. Never that she will not kid.
 */
export interface NextLook {
  signs: keyof typeof LOOK_AGAIN_H;
  /** Signs as they are by what was last told of each; none where some were there lately and are gone. */
  there: string[];
  hours: number;
  /** The last look within some days, and when the next falls due; 0 where nobody has looked, or it is due by now. */
  last_ms: number;
  next_ms: number;
}

type Row = Doe["signs"][number];

/** Seen for weeks before. */
const EARLY = new Set(["udder_full", "ligaments_soft"]);
const CLOSE = new Set(["pawing", "straining", "water_bag", "mucus_amber"]);
/** Found by a hand alone: a look from the gate neither sees nor misses them. */
const FELT = new Set(["ligaments_gone", "tail_raised"]);

export function next_look(signs: Doe["signs"], now_ms: number): NextLook {
  const rows = signs.filter(([at]) => now_ms - at < FELT_HOLD_H * HOUR_MS);
  const there = standing_of(rows, now_ms);
  const told = nearness(rows, there, now_ms);
  const last_ms = rows.at(-1)?.[0] ?? 0;
  const hours = LOOK_AGAIN_H[told];
  const next_ms = last_ms + hours * HOUR_MS;
  return { signs: told, there, hours, last_ms, next_ms: last_ms && next_ms > now_ms ? next_ms : 0 };
}

/** A sign nobody mentions at the next look is still there. */
function standing_of(rows: Row[], now_ms: number): string[] {
  const there = new Set<string>();
  for (const [at, seen, absent] of rows) {
    const holds = now_ms - at < SIGNS_HOLD_H * HOUR_MS;
    for (const sign of absent) there.delete(sign);
    for (const sign of seen) if (!EARLY.has(sign) && (holds || FELT.has(sign))) there.add(sign);
  }
  return [...there];
}

function nearness(rows: Row[], there: string[], now_ms: number): NextLook["signs"] {
  if (there.some((sign) => CLOSE.has(sign))) return "close";
  const lately = rows.some(([at, seen]) => now_ms - at < EASED_H * HOUR_MS && seen.some((sign) => CLOSE.has(sign)));
  return there.length || lately ? "signs" : "quiet";
}
