import { day_sums } from "../balance/balance.ts";
import { standing } from "../ground/branches.ts";
import { shift } from "../ground/context.ts";
import { ACT_AIM_PM, ACT_MATE_PM, AHEAD_D, THREE_D } from "../../tables/numbers.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { ratio, type Ahead } from "./forward.ts";
import { heard, LACK_OF, OVER, SHORT } from "./hearing.ts";
import { first_past } from "./limits.ts";

/** What she lacks with an act and lacked without it, by the two plans side by side. */

/** She gets no less of it: she lacked it before, and another word stood first, or her whole feeder was asked. */
export function no_less(base: Ahead, then: Ahead, [code, id]: [PromptCode, string], days: number): boolean {
  const of = LACK_OF[code];
  if (!of) return false;
  const looks = [Math.max(1, days), ...(code === "calcium_heading_short" ? [days + AHEAD_D] : [])];
  return looks.every((ahead_d) => {
    const [before, after] = [base, then].map((ahead) => ratio(ahead, id, of, shift(base.planned.day, ahead_d)));
    return after! >= before!;
  });
}

/**
 * A mate that is short anyway gets less by it, or one that is over more, or comes farther past a limit of hers. One
 * that is only heavy loses flesh as long as she gets clearly less than she needs.
 */
export function robbed(base: Ahead, then: Ahead, id: string, days: number): boolean {
  if (put_less(base, then, id, days) && farther_past(base, then, id, days)) return true;
  const on = shift(base.planned.day, Math.max(1, days));
  const [before, after] = [base, then].map((ahead) => ratio(ahead, id, "me", on)) as [number, number];
  const { codes } = heard(base.on(days), id);
  const has = (words: readonly PromptCode[]) => words.some((code) => codes.has(code));
  const more = Math.max(before + ACT_MATE_PM, ACT_AIM_PM.under);
  return (after < before - ACT_MATE_PM && has(SHORT)) || (after > more && has(OVER));
}

/** Less goes into her feeder, a head; that somebody beside her comes to eat more of it is another matter. */
function put_less(base: Ahead, then: Ahead, id: string, days: number): boolean {
  const on = shift(base.planned.day, Math.max(1, days) + THREE_D);
  const [before, after] = [base, then].map(({ planned }) => day_sums(planned, id, on, true)?.offered_me ?? 0);
  return after! < before!;
}

function farther_past(base: Ahead, then: Ahead, id: string, days: number): boolean {
  const looks = [Math.max(1, days), days + THREE_D];
  return standing(base.planned, id) === "ok" && first_past(base.planned, then.planned, id, looks) !== "";
}
