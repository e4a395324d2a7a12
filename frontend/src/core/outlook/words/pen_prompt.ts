import type { Context } from "../ground/context.ts";
import { one_feed_of_pen, one_feed_word } from "../ill/one_feed.ts";
import type { DoeResult, Prompt } from "../ground/shapes.ts";
import { OF_PEN, RANKS, type PromptCode } from "../../tables/prompts.ts";

/** What is said once for a pen, and that no doe of it then hears the contrary about the feed they share. */
const MORE: PromptCode[] = ["energy_short", "energy_heading_short", "condition_thin", "condition_thin_late"];
const LESS: PromptCode[] = ["energy_over", "energy_heading_over", "condition_fat"];
const CONTRARY: Partial<Record<PromptCode, PromptCode[]>> = {
  energy_short: LESS,
  energy_over: MORE,
  calcium_short: ["calcium_over", "calcium_heading_over"],
  calcium_over: ["calcium_short", "calcium_heading_short"],
};

/** A code that most of a pen's does share becomes the pen's, and theirs are marked as said. */
export function pen_prompt(ctx: Context, pen: string, does: Record<string, DoeResult>): Prompt | null {
  const mates = ctx.pen_mates(pen, ctx.day).filter((id) => does[id] !== undefined);
  const one_feed = one_feed_word(one_feed_of_pen(ctx, pen, mates));
  if (one_feed) return { ...one_feed, rank: RANKS[one_feed.code], subject: pen, in_pen: true };
  for (const code of OF_PEN) {
    const same = mates.filter((id) => does[id]!.prompt?.code === code);
    if (same.length < 2 || same.length * 1000 < mates.length * ctx.rule("pen_shared_pm")) continue;
    const args = { ...does[same[0]!]!.prompt!.args, does: same };
    for (const id of same) does[id]!.prompt = { ...does[id]!.prompt!, in_pen: true };
    for (const id of mates) set_apart(does[id]!, CONTRARY[code] ?? []);
    return { code, rank: RANKS[code], subject: pen, args, in_pen: true };
  }
  return null;
}

/** The pen's feed goes the other way than hers should: she needs a feeder of her own. */
function set_apart(doe: DoeResult, contrary: PromptCode[]): void {
  const { prompt } = doe;
  if (prompt && contrary.includes(prompt.code)) doe.prompt = { ...prompt, args: { ...prompt.args, apart: true } };
}
