import type { Mark } from "../../state/view.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { day_sums, late_on } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import type { Nutrient, Said } from "../ground/shapes.ts";
import { no_less, resting_acts, type Way } from "../verdict/following.ts";
import { keeps_whole } from "./whole_diet.ts";

/** Words that rest because an act somebody put into the plan already answers them. */
type Answer = [of: Nutrient, way: Way];

const ME_UP: Answer = ["me", "up"];
const ME_DOWN: Answer = ["me", "down"];
const CA_UP: Answer = ["ca", "up"];
const CA_DOWN: Answer = ["ca", "down"];
const ANY: Answer[] = [ME_UP, ME_DOWN, CA_UP, CA_DOWN, ["cp", "up"], ["p", "up"]];

const ANSWERS: Partial<Record<PromptCode, Answer[]>> = {
  energy_short: [ME_UP], energy_heading_short: [ME_UP], energy_over: [ME_DOWN], energy_heading_over: [ME_DOWN],
  calcium_short: [CA_UP], calcium_heading_short: [CA_UP], calcium_over: [CA_DOWN], calcium_heading_over: [CA_DOWN],
  protein_short: [["cp", "up"]], phosphorus_short: [["p", "up"]],
  forage_low: ANY, grain_share_big: ANY, ca_p_low: ANY,
};

export function answered_by_act(ctx: Context, id: string, { code, args }: Said): boolean {
  if (eased_by_act(ctx, id, code, String(args["witness"]))) return true;
  const acts = (ANSWERS[code] ?? []).filter((answer) => !late_and_short(ctx, id, answer));
  const marks = acts.flatMap(([of, way]) => resting_acts(ctx, id, of, way));
  return marks.some((mark) => whole_after(ctx, id, code, mark));
}

/** Late a short doe is spoken of until her sums are right. */
function late_and_short(ctx: Context, id: string, answer: Answer): boolean {
  return answer === ME_UP && late_on(ctx, id, ctx.day);
}

/** Her feed falls, and is to: an act takes it from a doe that was over. */
function eased_by_act(ctx: Context, id: string, code: PromptCode, witness: string): boolean {
  const fell = code === "energy_heading_short" || (code === "energy_short" && witness === "less_feed");
  return fell && resting_acts(ctx, id, ...ME_DOWN).some((mark) => no_less(ctx, id, mark));
}

/** What is said of the whole of her feed rests where the plan keeps it once the act is in. */
function whole_after(ctx: Context, id: string, code: PromptCode, { by_on }: Mark): boolean {
  if (code !== "forage_low" && code !== "grain_share_big" && code !== "ca_p_low") return true;
  const sums = day_sums(ctx, id, by_on > ctx.day ? by_on : shift(ctx.day, 1), true);
  return sums !== null && keeps_whole(ctx, id, code, sums);
}
