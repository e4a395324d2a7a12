import type { Env } from "../base/env.ts";
import type { Phone } from "./store/phone.ts";
import type { Seat } from "./store/rows.ts";

export const MOST_TRIES = 5;
const DIGITS = /^\d{4,6}$/;
/** More would keep a slow phone busy for a minute: no server of ours asks for so many. */
const MOST_ROUNDS = 5_000_000;

/** `left`: how many tries are left; none, and only her password opens her place. */
export type Checked = { kind: "right" } | { kind: "wrong"; left: number } | { kind: "locked" } | { kind: "cannot" };

/** Says who of a shared phone's people is here. It guards no door: her password does. */
export async function check_pin(
  { pbkdf2 }: Pick<Env, "pbkdf2">, phone: Pick<Phone, "tries" | "tried">, { id, pin }: Seat, digits: string,
): Promise<Checked> {
  if (!pin) return { kind: "right" };
  if ((await phone.tries(id)) >= MOST_TRIES) return { kind: "locked" };
  if (!pbkdf2 || pin.rounds > MOST_ROUNDS) return { kind: "cannot" };
  // Counted before it is looked at: a page that is closed in between has used up its try.
  const tries = await phone.tried(id);
  if (DIGITS.test(digits) && (await pbkdf2(digits, pin.salt, pin.rounds)) === pin.hash) {
    await phone.tried(id, 0);
    return { kind: "right" };
  }
  return tries >= MOST_TRIES ? { kind: "locked" } : { kind: "wrong", left: MOST_TRIES - tries };
}
