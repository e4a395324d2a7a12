import { day_sums } from "../balance/balance.ts";
import { found_in_steps } from "../gates/gates.ts";
import { standing } from "../ground/branches.ts";
import { shift, type Context } from "../ground/context.ts";
import { AHEAD_D } from "../../tables/numbers.ts";
import type { Ahead } from "./forward.ts";
import type { Goal } from "../verdict/goals.ts";
import { hay_at_once } from "./limits.ts";
import { changes_of, type ActLine } from "./shapes.ts";

/** What a tried change does beside what it is for: to her mates, to her gut, and to whoever would be asked about it. */

/** More of one hay in a day than may come in at once, for any of them. */
export function* at_once(from: Context, [base, then]: [Ahead, Ahead], ids: string[]): Generator<void, string> {
  const fast = (id: string) => days_of(from).some((on) => hay_at_once(then.planned, base.planned, id, on));
  for (const id of ids) {
    if (standing(from, id) === "ok" && fast(id)) return "hay at once";
    yield;
  }
  return "";
}

/** What whoever saved it by hand would be asked about; energy she lacks does not wait for the last of her calcium. */
export function* warned(
  from: Context, { planned }: Ahead, lines: ActLine[], { of, way }: Goal,
): Generator<void, string> {
  const short = of === "me" && way === "up";
  const found = yield* found_in_steps(from, planned, changes_of(lines));
  return found.flatMap(({ code }) => (short && code === "calcium_fall" ? [] : [code])).join();
}

/** She eats what she would have eaten anyway, so that nothing else can be said of her. */
export function eats_as_before(base: Ahead, then: Ahead, id: string): boolean {
  return days_of(base.planned).every((on) => {
    const [before, after] = [base, then].map(({ planned }) => day_sums(planned, id, on, true)?.dm_by ?? {});
    const same = (feed: string) => before![feed] === after![feed];
    return Object.keys(after!).every(same) && Object.keys(before!).every(same);
  });
}

const days_of = ({ day }: Context): string[] => Array.from({ length: AHEAD_D }, (_, k) => shift(day, k + 1));
