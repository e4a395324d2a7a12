import { pen_on } from "../../state/where.ts";
import type { Context } from "../ground/context.ts";
import { doe_result, shared_calcium } from "./doe_result.ts";
import { pen_prompt } from "../words/pen_prompt.ts";
import { choose } from "../words/prompts.ts";
import { risk_of } from "../ill/risk.ts";
import type { DoeResult, Prompt } from "../ground/shapes.ts";

/**
 * What is judged together: the does at one feeder, whose hay and calcium are shared and whose common cause is said
 * once.
 */
export interface Unit {
  does: Record<string, DoeResult>;
  prompt: Prompt | null;
}
/** Her result before her pen is judged; kept, since a tap asks for it first. */
export type Alone = (id: string) => DoeResult;

/** Pens, and does who stand in none, each by herself. */
export function units_of(ctx: Context): string[] {
  const { does, pens } = ctx.view;
  const alone = Object.keys(does).filter((id) => ctx.here(id) && unit_of(ctx, id) === id);
  return [...Object.keys(pens).filter((pen) => is_pen(ctx, pen)), ...alone];
}

export function unit_of(ctx: Context, id: string): string {
  const pen = pen_on(ctx.doe(id), ctx.day);
  return is_pen(ctx, pen) ? pen : id;
}

/** An id that is a doe's as well is hers. */
export function is_pen(ctx: Context, id: string): boolean {
  return Object.hasOwn(ctx.view.pens, id) && !Object.hasOwn(ctx.view.does, id);
}

/** Takes a breath after each doe and again after each word, so that whoever runs it can let a tap through. */
export function* judge(ctx: Context, unit: string, alone: Alone = (id) => doe_result(ctx, id)): Generator<void, Unit> {
  const ids = ctx.pen_mates(unit, ctx.day).filter((id) => ctx.here(id));
  const does: Record<string, DoeResult> = {};
  for (const id of ids) {
    does[id] = alone(id);
    yield;
  }
  const shared = is_pen(ctx, unit);
  if (shared) shared_calcium(ctx, unit, does);
  for (const id of ids) {
    speak(ctx, id, does[id]!);
    yield;
  }
  return { does, prompt: shared ? pen_prompt(ctx, unit, does) : null };
}

/** Risk and a prompt, once what her pen shares is known. */
export function speak(ctx: Context, id: string, result: DoeResult): void {
  result.risk = risk_of(ctx, id, result);
  result.prompt = choose(ctx, id, result);
}
