import { DAY_MS, HOUR_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { EASED_H, FELT_HOLD_H, LOOK_AGAIN_H, SIGNS_HOLD_H, TOLD_BACK_D } from "../../tables/numbers.ts";

/**
 * How long anybody may stay away from a doe near kidding, by each sign as it was last told: six hours with none, two
 * once there are some or were lately, one once she paws. Never that she will not kid.
 */
export interface NextLook {
  signs: keyof typeof LOOK_AGAIN_H;
  /** Signs as they are by what was last told of each; none where some were there lately and are gone. */
  there: string[];
  hours: number;
  /** The last look within some weeks, and when the next one falls due; 0 where nobody has, or it is due by now. */
  last_ms: number;
  next_ms: number;
}

type Row = Doe["signs"][number];

/** Seen for weeks before: named, and looked at no sooner for them. */
const EARLY = new Set(["udder_full", "ligaments_soft"]);
const CLOSE = new Set(["pawing", "straining", "water_bag", "mucus_amber"]);
/** Found by a hand alone: a look from the gate neither sees nor misses them. */
const FELT = new Set(["ligaments_gone", "tail_raised"]);

export function next_look(signs: Doe["signs"], now_ms: number): NextLook {
  const rows = signs.filter(([at]) => now_ms - at < TOLD_BACK_D * DAY_MS);
  const last_ms = rows.at(-1)?.[0] ?? 0;
  const there = standing_of(rows, last_ms);
  const told = nearness(rows, there, last_ms);
  const hours = LOOK_AGAIN_H[told];
  const next_ms = last_ms + hours * HOUR_MS;
  return { signs: told, there, hours, last_ms, next_ms: last_ms && next_ms > now_ms ? next_ms : 0 };
}

/** As it was at the last look: a sign nobody mentions there is still there, and none goes because nobody looks. */
function standing_of(rows: Row[], last_ms: number): string[] {
  const there = new Set<string>();
  for (const [at, seen, absent] of rows) {
    const holds = (sign: string) => last_ms - at < hold_h(sign) * HOUR_MS;
    for (const sign of absent) there.delete(sign);
    for (const sign of seen) if (holds(sign)) there.add(sign);
  }
  // the udder and the ligaments go on from one to the next
  for (const [later, sooner] of [["ligaments_gone", "ligaments_soft"], ["teats_strutted", "udder_full"]] as const)
    if (there.has(later)) there.delete(sooner);
  return [...there];
}

const hold_h = (sign: string) => (FELT.has(sign) || EARLY.has(sign) ? FELT_HOLD_H : SIGNS_HOLD_H);

function nearness(rows: Row[], there: string[], last_ms: number): NextLook["signs"] {
  if (there.some((sign) => CLOSE.has(sign))) return "close";
  const lately = rows.some(([at, seen]) => last_ms - at < EASED_H * HOUR_MS && seen.some((sign) => CLOSE.has(sign)));
  return lately || there.some((sign) => !EARLY.has(sign)) ? "signs" : "quiet";
}
