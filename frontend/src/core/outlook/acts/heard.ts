import { window } from "../balance/balance.ts";
import type { Context } from "../ground/context.ts";
import { doe_result } from "../whole/doe_result.ts";
import { all } from "../words/prompts.ts";
import { risk_of } from "../ill/risk.ts";
import type { DoeResult } from "../ground/shapes.ts";
import { own_calcium, pen_calcium } from "../verdict/verdicts.ts";
import { WEEK_D } from "../../tables/numbers.ts";
import { FIRST_OF_SUMS, RANKS, type PromptCode } from "../../tables/prompts.ts";

/** What is said of a doe on an evening, and what of it an act is answerable for. */
export interface Heard {
  result: DoeResult;
  codes: Set<PromptCode>;
}

export const SHORT: readonly PromptCode[] = [
  "energy_short", "energy_heading_short", "condition_thin", "condition_thin_late",
];

/** Words about her feed and what it does to her; not what is to be recorded, nor what is only told. */
const TOLD: readonly PromptCode[] = [
  "waiting", "withheld", "stale", "no_outlook", "record_next", "raise_will_wait", "steps_ahead", "ca_p_high",
];

export function of_sums(code: PromptCode): boolean {
  return RANKS[code] >= FIRST_OF_SUMS && !TOLD.includes(code);
}

/** That it was to come was no less said when it had come; nor is a look at her anything new where she was short. */
export function was_said(before: Set<PromptCode>, code: PromptCode): boolean {
  if (code === "score_her" && SHORT.some((short) => before.has(short))) return true;
  return before.has(code) || before.has(code.replace("_heading", "") as PromptCode);
}

/** Every word about her on that evening, as the evaluator finds them. */
export function heard(ctx: Context, id: string): Heard {
  const result = doe_result(ctx, id);
  const line = result.lines["ca"];
  if (line?.of === "pen") Object.assign(line, { st: shared_calcium(ctx, result.pen), ahead: null });
  if (result.standing === "ok") result.risk = risk_of(ctx, id, result);
  const codes = new Set(all(ctx, id, result).flatMap((said) => said?.code ?? []));
  return { result, codes };
}

function shared_calcium(ctx: Context, pen: string) {
  const mates = ctx.pen_mates(pen, ctx.day);
  const shared = mates.filter((id) => ctx.outlooks[id] && !own_calcium(ctx, id, window(ctx, id, WEEK_D)));
  return shared.length ? pen_calcium(ctx, shared) : "unknown";
}
