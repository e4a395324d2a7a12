import { day_sums } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import type { OnAct, Said } from "../ground/shapes.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { GOALS } from "../verdict/goals.ts";
import { no_less } from "../verdict/on_act.ts";
import { is_whole_word, keeps_whole } from "./whole_diet.ts";

/** Whether a word rests because an act that somebody put into her plan already answers it. */
export function answered_by_act(ctx: Context, id: string, acts: OnAct[], { code, args }: Said): boolean {
  const goal = GOALS[code];
  if (is_whole_word(code)) return acts.some((act) => whole_after(ctx, id, code, act));
  if (goal && acts.some(({ of, way }) => of === goal.of && way === goal.way)) return true;
  return eased_by_act(ctx, id, acts, code, String(args["witness"]));
}

/** Her feed falls, and is to: an act takes it from a doe that was over. */
function eased_by_act(ctx: Context, id: string, acts: OnAct[], code: PromptCode, witness: string): boolean {
  const fell = code === "energy_heading_short" || (code === "energy_short" && witness === "less_feed");
  return fell && acts.some((act) => act.of === "me" && act.way === "down" && no_less(ctx, id, act));
}

/** What is said of the whole of her feed rests where the plan keeps it once the act is in. */
function whole_after(
  ctx: Context, id: string, code: Parameters<typeof keeps_whole>[2], { by_on }: OnAct,
): boolean {
  const sums = day_sums(ctx, id, by_on > ctx.day ? by_on : shift(ctx.day, 1), true);
  return sums !== null && keeps_whole(ctx, id, code, sums);
}
