import { amount_on } from "../../state/planned.ts";
import { shift, type Context } from "../ground/context.ts";
import { AHEAD_D, WEEK_D } from "../../tables/numbers.ts";
import { barn_of, target, type Barn } from "./barn.ts";
import { told } from "./climb.ts";
import type { Goal } from "../verdict/goals.ts";
import type { Act, ActLine } from "./shapes.ts";
import { line_anew } from "./steps.ts";
import { Trial } from "./trial.ts";

/** Late, what was cut some days ago comes back as it was; what she comes to need beyond it is another word. */
export function* give_back(from: Context, unit: string, id: string, goal: Goal): Generator<void, Act[]> {
  const barn = goal.way === "up" && goal.gone.includes("net_cut_late") ? barn_of(from, unit, id, goal.of) : null;
  const lines = barn ? before_the_cut(barn) : [];
  if (!lines.length) return [];
  const trial = new Trial(from, unit, id, { ...goal, gone: ["net_cut_late"] }, AHEAD_D);
  // it answers the cut, not what she came to need beside it
  const verdict = yield* trial.try(lines, [], true);
  if (verdict === "out") return [];
  const shared = lines.some(({ to }) => to === "pen");
  const [to, subject] = shared ? ["pen" as const, unit] : ["doe" as const, id];
  const rung = { code: "give_back" as const, to, subject };
  return [told(trial, rung, lines, verdict !== "good")];
}

function before_the_cut(barn: Barn): ActLine[] {
  const { ctx, id, unit, start } = barn;
  const planned = [...new Set([id, unit])].flatMap((subject) => ctx.plans.get(subject) ?? []);
  return planned.flatMap(({ subject, slot, feed, steps }) => {
    const had = Math.max(...Array.from({ length: WEEK_D }, (_, k) => amount_on(steps, shift(ctx.day, -k))));
    const place = { subject, to: target(barn, subject), slot, feed };
    return had > amount_on(steps, start) ? [line_anew(ctx, place, [[start, had]])] : [];
  });
}
