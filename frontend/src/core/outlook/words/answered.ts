import { day_sums } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import type { OnAct, Said } from "../ground/shapes.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { GOALS } from "../verdict/goals.ts";
import { no_less } from "../verdict/on_act.ts";
import { WEEK_D } from "../../tables/numbers.ts";
import { is_whole_word, keeps_whole } from "./whole_diet.ts";

/** Whether a word rests because an act that somebody put into her plan already answers it. */
export function answered_by_act(ctx: Context, id: string, acts: OnAct[], { code, args }: Said): boolean {
  const goal = GOALS[code];
  if (is_whole_word(code)) return acts.some((act) => whole_after(ctx, id, code, act));
  const witness = String(args["witness"]);
  if (goal && acts.some((act) => act.of === goal.of && act.way === goal.way && (!act.back || fell(code, witness))))
    return true;
  return eased_by_act(ctx, id, acts, code, witness) || dries_off(ctx, id, acts, code, witness);
}

/**
 * Her milk is to come down with her feed: that the sums run ahead of it, and for as long as a week holds those days, is
 * what was planned. What somebody saw, or her condition, is still said.
 */
function dries_off(ctx: Context, id: string, acts: OnAct[], code: PromptCode, witness: string): boolean {
  const of_sums: readonly PromptCode[] = ["protein_short", "phosphorus_short"];
  if (!of_sums.includes(code) && !(code === "energy_short" && BY_SUMS.includes(witness))) return false;
  const { dried_on, dry_plan } = ctx.doe(id);
  const last_on = dried_on || (dry_plan?.last_on ?? "");
  return acts.some(({ dry, whole_on }) => dry && ctx.day <= shift(whole_on > last_on ? whole_on : last_on, WEEK_D + 1));
}

const BY_SUMS = ["sums", "feeder", "less_feed", "last_week", "unscored"];

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
