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
  const witness = String(args["witness"]);
  if (goal && acts.some((act) => act.of === goal.of && act.way === goal.way && (!act.back || fell(code, witness))))
    return true;
  return eased_by_act(ctx, id, acts, code, witness);
}

/** Her feed falls, and is to: an act takes it from a doe that was over. */
function eased_by_act(ctx: Context, id: string, acts: OnAct[], code: PromptCode, witness: string): boolean {
  if (code === "net_cut_late" || !fell(code, witness)) return false;
  return acts.some((act) => act.of === "me" && act.way === "down" && no_less(ctx, id, act));
}

/** A word of feed that falls, which having it back answers; that she is thin, or wants more, it does not. */
function fell(code: PromptCode, witness: string): boolean {
  const falling: readonly PromptCode[] = ["net_cut_late", "energy_heading_short"];
  return falling.includes(code) || (code === "energy_short" && witness === "less_feed");
}

/** What is said of the whole of her feed rests where the plan keeps it once the act is in. */
function whole_after(
  ctx: Context, id: string, code: Parameters<typeof keeps_whole>[2], { by_on }: OnAct,
): boolean {
  const sums = day_sums(ctx, id, by_on > ctx.day ? by_on : shift(ctx.day, 1), true);
  return sums !== null && keeps_whole(ctx, id, code, sums);
}
