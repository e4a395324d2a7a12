import { div, sum } from "../../base/ints.ts";
import { confirmed, day_sums, window } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { ACT_AIM_PM, ACT_TELLS_PM, AHEAD_D, THREE_D, WEEK_D } from "../../tables/numbers.ts";
import { reaches } from "./aims.ts";
import type { Acts } from "./shapes.ts";
import type { Trial } from "./trial.ts";

/** Her plan as it is answers it so many days from now; by what she is given, or by her need alone. */
export function answered_on(trials: [Trial, ...Trial[]], days: number): Pick<Acts, "by_plan" | "by_need"> {
  const by_need = !trials.some((trial) => changes(trial, days));
  return { by_plan: shift(trials[0].from.day, days), by_need };
}

/** Days from now on which the plan as it is has brought her back; null where it does not, or her score alone speaks. */
export function* healed(trial: Trial): Generator<void, number | null> {
  const days = yield* trial.healed();
  if (days === null || (trial.goal.by_score && !changes(trial, trial.last_look()))) return null;
  return trial.goal.way === "up" && !gets_it(trial) ? null : days;
}

/** She got what was planned of late, or is to get more: what she leaves, or nobody gives her, brings her nothing. */
function gets_it({ from, id, base: { planned }, goal: { of } }: Trial): boolean {
  const days = Array.from({ length: THREE_D }, (_, k) => shift(from.day, -k)).filter((on) => confirmed(from, id, on));
  const got = (ctx: Context, on: string, as_planned: boolean) => day_sums(ctx, id, on, as_planned)?.got[of] ?? 0;
  const was = sum(days.map((on) => got(from, on, true)));
  if (!was || sum(days.map((on) => got(from, on, false))) * 1000 >= was * (1000 - ACT_TELLS_PM)) return true;
  return got(planned, shift(from.day, AHEAD_D), true) * days.length * 1000 > was * (1000 + ACT_TELLS_PM);
}

/** Her score speaks, what she gets is right for it, and her plan stays: feed by itself is not the answer. */
export function fed_right(trial: Trial): boolean {
  const { goal, base, from, id } = trial;
  if (!goal.by_score || changes(trial, trial.last_look())) return false;
  const days = [1, trial.last_look()].map((ahead_d) => trial.pm(base, shift(from.day, ahead_d)));
  if (goal.way === "down") return days.every((pm) => pm < ACT_AIM_PM.under);
  return days.every((pm) => pm >= ACT_AIM_PM.thin) && reaches(base, id, goal, AHEAD_D);
}

/** The plan, or the last days already, give her clearly more, or less, than her week did. */
function changes({ from, id, base: { planned }, goal: { of, way } }: Trial, days: number): boolean {
  const [week, then] = [window(from, id, WEEK_D), day_sums(planned, id, shift(from.day, Math.max(1, days)), true)];
  if (!week.days || then === null) return false;
  const had = div(week.got[of], week.days);
  return (way === "down" ? had - then.got[of] : then.got[of] - had) * 1000 > had * ACT_TELLS_PM;
}
