import type { Farm } from "../../core/phone/farm.ts";
import type { Evaluation } from "../../core/outlook/evaluation.ts";
import { browserEnv } from "../../core/base/env.ts";
import type { Judged } from "./live.svelte.ts";

/** Longer than this nothing is worked without letting a tap and a frame through. */
const SLICE_MS = 6;
/** Nobody has tapped for so long that what is shown is kept for the next opening. */
const REST_MS = 2_000;
export const { rest, drawn } = browserEnv();

/** Works results out between taps, pen by pen, and shows each as it is known. A later change starts with what it moved. */
export class Judging {
  readonly #judged: Judged;
  readonly #walk: () => string[];
  readonly #atRest: () => void;
  #now: Evaluation | null = null;
  #resting = 0;

  /** `walk`: pens in the order in which they are seen. `atRest`: all is judged, and nobody taps. */
  constructor(judged: Judged, walk: () => string[], atRest: () => void) {
    [this.#judged, this.#walk, this.#atRest] = [judged, walk, atRest];
  }

  /** What a change has left open; the doe it was about at once, then her pen. */
  go(farm: Farm, day: string, tapped: string): void {
    const evaluation = farm.evaluation(day);
    if (evaluation === this.#now) return;
    this.#now = evaluation;
    const result = evaluation.first(tapped);
    if (result) this.#judged.putDoe(tapped, result);
    void this.#run(evaluation, [evaluation.ctx.view.does[tapped]?.pen ?? tapped, ...this.#walk()]);
  }

  stop(): void {
    this.#now = null;
  }

  async #run(evaluation: Evaluation, first: string[]): Promise<void> {
    await drawn();
    let since = performance.now();
    for (const unit of evaluation.steps(first)) {
      if (this.#now !== evaluation) return;
      if (unit !== undefined) this.#show(evaluation, unit);
      if (performance.now() - since < SLICE_MS) continue;
      await rest();
      since = performance.now();
    }
    this.#keep(evaluation);
  }

  #keep(evaluation: Evaluation): void {
    clearTimeout(this.#resting);
    this.#resting = window.setTimeout(() => {
      if (this.#now === evaluation) this.#atRest();
    }, REST_MS);
  }

  /** The page is left, and may never be seen again. */
  leave(): void {
    if (this.#now?.finished) this.#atRest();
  }

  #show(evaluation: Evaluation, unit: string): void {
    const { does, prompt } = evaluation.unit(unit);
    for (const [id, result] of Object.entries(does)) this.#judged.putDoe(id, result);
    this.#judged.putPen(unit, prompt);
  }
}

