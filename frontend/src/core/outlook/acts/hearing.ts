import { window } from "../balance/balance.ts";
import { once_in, type Context, type Kept } from "../ground/context.ts";
import type { DoeResult, Nutrient, State } from "../ground/shapes.ts";
import { risk_of } from "../ill/risk.ts";
import { own_calcium, pen_calcium } from "../verdict/verdicts.ts";
import { doe_result } from "../whole/doe_result.ts";
import { fed } from "../words/prompts.ts";
import { WEEK_D } from "../../tables/numbers.ts";
import { FIRST_OF_SUMS, RANKS, type PromptCode } from "../../tables/prompts.ts";

export interface Heard {
  result: DoeResult;
  codes: Set<PromptCode>;
}

export const SHORT: readonly PromptCode[] = [
  "energy_short", "energy_heading_short", "condition_thin", "condition_thin_late",
];

export const LACKS: readonly PromptCode[] = ["calcium_short", "calcium_heading_short", "protein_short", "ca_p_low"];
/** What is lacked where one of these is said. */
export const LACK_OF: Partial<Record<PromptCode, Nutrient>> = {
  calcium_short: "ca", calcium_heading_short: "ca", protein_short: "cp", phosphorus_short: "p",
};
export const OVER: readonly PromptCode[] = ["energy_over", "energy_heading_over", "condition_fat"];

/** Words about her feed and what it does to her; not what is to be recorded, nor what is only told. */
const TOLD: readonly PromptCode[] = [
  "waiting", "withheld", "stale", "no_outlook", "record_next", "raise_will_wait", "steps_ahead", "ca_p_high",
];

export function of_sums(code: PromptCode): boolean {
  return RANKS[code] >= FIRST_OF_SUMS && !TOLD.includes(code);
}

/** That it was to come was no less said when it had come. */
export function was_said(before: Set<PromptCode>, code: PromptCode): boolean {
  return before.has(code) || before.has(code.replace("_heading", "") as PromptCode);
}

/** No word is said of the days ahead of any other. */
const FORETOLD: readonly Nutrient[] = ["me", "ca"];
const HEARD: Kept<Heard> = new WeakMap();
const CALCIUM: Kept<State> = new WeakMap();

/** Every word about her feed on that evening, as the evaluator finds them; once for all who are tried beside her. */
export function heard(ctx: Context, id: string): Heard {
  return once_in(HEARD, ctx, id, () => find_heard(ctx, id));
}

function find_heard(ctx: Context, id: string): Heard {
  const result = doe_result(ctx, id, FORETOLD);
  const line = result.lines["ca"];
  if (line?.of === "pen") Object.assign(line, { st: shared_calcium(ctx, result.pen), ahead: null });
  if (result.standing === "ok") result.risk = risk_of(ctx, id, result);
  const heeded = result.standing === "ok" && !result.down ? fed(ctx, id, result) : [];
  const codes = new Set(heeded.flatMap((said) => said?.code ?? []));
  return { result, codes };
}

function shared_calcium(ctx: Context, pen: string): State {
  return once_in(CALCIUM, ctx, pen, () => find_calcium(ctx, pen));
}

function find_calcium(ctx: Context, pen: string): State {
  const mates = ctx.pen_mates(pen, ctx.day);
  const shared = mates.filter((id) => ctx.outlooks[id] && !own_calcium(ctx, id, window(ctx, id, WEEK_D)));
  return shared.length ? pen_calcium(ctx, shared) : "unknown";
}

/** What her mates' weeks come to, where she is judged by the feeder's calcium: in a step of its own. */
export function* weeks_beside(ctx: Context, id: string, mates: string[]): Generator<void, void> {
  if (own_calcium(ctx, id, window(ctx, id, WEEK_D))) return;
  for (const mate of mates) window(ctx, mate, WEEK_D);
  yield;
}
