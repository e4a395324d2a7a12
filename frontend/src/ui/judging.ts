import type { Farm } from "../core/farm.ts";
import type { Evaluation } from "../core/outlook/evaluation.ts";
import type { Judged } from "./live.svelte.ts";

/** Longer than this nothing is worked without letting a tap and a frame through. */
const SLICE_MS = 6;

/** Works results out between taps, pen by pen, and shows each as it is known. A later change starts with what it moved. */
export class Judging {
  readonly #judged: Judged;
  readonly #walk: () => string[];
  #now: Evaluation | null = null;

  /** `walk`: pens in the order in which they are seen. */
  constructor(judged: Judged, walk: () => string[]) {
    [this.#judged, this.#walk] = [judged, walk];
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
      await rested();
      since = performance.now();
    }
  }

  #show(evaluation: Evaluation, unit: string): void {
    const { does, prompt } = evaluation.unit(unit);
    for (const [id, result] of Object.entries(does)) this.#judged.putDoe(id, result);
    this.#judged.putPen(unit, prompt);
  }
}

/** After the frame that is due is on the screen. A page nobody sees paints none. */
function drawn(): Promise<void> {
  if (document.visibilityState === "hidden") return rested();
  return new Promise((done) => requestAnimationFrame(() => void rested().then(done)));
}

function rested(): Promise<void> {
  return new Promise((done) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => done();
    port2.postMessage(0);
  });
}
