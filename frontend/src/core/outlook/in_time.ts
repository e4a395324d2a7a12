import type { PromptCode } from "../tables/prompts.ts";
import type { Args } from "./shapes.ts";

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

export function as_of<T extends Timed>(said: T, now_ms: number): T {
  const at = Number(said.args["vet_at_ms"] ?? 0);
  const code = THEN[said.code];
  if (!at || now_ms < at || !code) return said;
  return { ...said, code, args: { ...said.args, urgency: "vet_now", over: true, vet_at_ms: 0 } };
}
