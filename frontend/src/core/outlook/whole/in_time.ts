import { RANKS, type PromptCode } from "../../tables/prompts.ts";
import type { Args, DoeResult, Prompt, Turn } from "../ground/shapes.ts";

/**
 * A word whose time is up is the vet's: half an hour of pushing, an hour after the water, a buck that shows no stream.
 * The day's results know no clock, so whoever shows them asks with the time.
 */
interface Timed {
  code: PromptCode;
  args: Args;
}

const THEN: Partial<Record<PromptCode, PromptCode>> = {
  labour_now: "labour_vet", off_feed_now: "off_feed_vet", off_feed_watch: "off_feed_vet",
};

/** Whether a word hangs on the clock at all. */
export const is_timed = ({ args }: Timed) => Boolean(args["vet_at_ms"] || args["turns"]);

export function as_of<T extends Timed>(said: T, now_ms: number): T {
  const turned = (said.args["turns"] as Turn[] | undefined)?.findLast(([at_ms]) => at_ms <= now_ms);
  if (turned) return { ...said, code: turned[1], args: { ...said.args, turns: [], over: true } };
  const at = Number(said.args["vet_at_ms"] ?? 0);
  const code = THEN[said.code];
  if (!at || now_ms < at || !code) return said;
  return { ...said, code, args: { ...said.args, urgency: "vet_now", over: true, vet_at_ms: 0 } };
}

/** The prompt as the clock has it: a word of her first days may have become the gravest since. */
export function prompt_at({ id, prompt, first_days }: DoeResult, now_ms: number): Prompt | null {
  if (!first_days.some(is_timed)) return prompt && as_of(prompt, now_ms);
  const later = first_days.map((said) => ({ ...said, subject: id, in_pen: false, rank: RANKS[said.code] }));
  const all = [...(prompt ? [prompt] : []), ...later].map((said) => as_of(said, now_ms));
  return all.reduce<Prompt | null>((best, said) => {
    const rank = RANKS[said.code];
    return best && best.rank <= rank ? best : { ...said, rank };
  }, null);
}
