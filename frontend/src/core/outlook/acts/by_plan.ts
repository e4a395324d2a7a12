import { div } from "../../base/ints.ts";
import { day_sums, window } from "../balance/balance.ts";
import { shift } from "../ground/context.ts";
import { ACT_TELLS_PM, WEEK_D } from "../../tables/numbers.ts";
import type { Acts } from "./shapes.ts";
import type { Trial } from "./trial.ts";

/** Her plan as it is answers it so many days from now; by what she is given, or by her need alone. */
export function answered_on(trials: [Trial, ...Trial[]], days: number): Pick<Acts, "by_plan" | "by_need"> {
  const by_need = !trials.some((trial) => changes(trial, days));
  return { by_plan: shift(trials[0].from.day, days), by_need };
}

/** The plan, or the last days already, give her clearly more, or less, than her week did. */
function changes({ from, id, base: { planned }, goal: { of, way } }: Trial, days: number): boolean {
  const [week, then] = [window(from, id, WEEK_D), day_sums(planned, id, shift(from.day, Math.max(1, days)), true)];
  if (!week.days || then === null) return false;
  const had = div(week.got[of], week.days);
  return (way === "down" ? had - then.got[of] : then.got[of] - had) * 1000 > had * ACT_TELLS_PM;
}
