import { browserEnv } from "../../core/base/env.ts";
import { dataFile } from "../../core/phone/sync/data.ts";
import { LANGUAGES } from "../../texts/languages.ts";
import { warmth } from "../words/format.ts";
import { speech } from "../shell/language.svelte.ts";
import { marked } from "../words/text.ts";
import { day } from "../model/day.svelte.ts";
import type { CardLine, Cards } from "./shapes.ts";

let held = $state.raw<{ of: string; cards: Cards | null } | null>(null);

/** Undefined while they are being read, null where they cannot be had just now. */
export function cards(): Cards | null | undefined {
  return held?.of === speech.now ? held.cards : undefined;
}

/** To be called when a screen opens: out of the worker's cache, so also without a signal. */
export async function readCards(): Promise<void> {
  const of = speech.now;
  if (!of || cards()) return;
  const read = await dataFile(browserEnv(), LANGUAGES[of].cards);
  held = { of, cards: JSON.parse(marked(JSON.stringify(read))) as Cards | null };
}

/** {c390} is 39.0 degrees C in the farm's own unit. */
export function lineText({ t }: CardLine): string {
  return t.replace(/\{c(\d+)\}/g, (_, c_x10: string) => warmth(Number(c_x10), day.units));
}
