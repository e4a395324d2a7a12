import { drawn, rest } from "../../core/base/env.ts";
import type { Evaluation } from "../../core/outlook/whole/evaluation.ts";
import type { Picture } from "../../core/phone/picture.ts";
import type { Unit } from "../../core/outlook/whole/units.ts";
import { waits } from "./hands.ts";
import { Box } from "./live.svelte.ts";
import type { DoeResult, Prompt } from "./results.ts";
import type { Intake, View } from "./shapes.ts";

/** Longer than this nothing is worked without letting a tap and a frame through. */
const SLICE_MS = 6;
/** Nobody has tapped for so long that what is shown is kept for the next opening. */
const REST_MS = 2_000;

/** What a list can show of a result. The numbers behind it move with every meal and stand on her own page alone. */
function face({ lines, fibre, risk, ...rest }: DoeResult): string {
  const { me } = lines;
  return JSON.stringify([rest, me && [me.st, me.sure, me.ahead]]);
}

type Boxes<T> = Map<string, Box<T>>;

/**
 * What was last worked out of each doe and each pen, a signal each: worked out between taps, pen by pen, and shown as
 * it becomes known. A later change starts with what it moved.
 */
export class Judged {
  readonly #does: Boxes<DoeResult | undefined> = new Map();
  readonly #pens: Boxes<Prompt | null | undefined> = new Map();
  readonly #ate: Boxes<Intake | undefined> = new Map();
  readonly #walk: () => string[];
  readonly #atRest: () => void;
  /** What was last shown of a pen: most pens stand as they stood. */
  readonly #shown = new Map<string, Unit>();
  /** How often a pen has been judged: what her own page shows of her may be more by then. */
  units = $state(0);
  #now: Evaluation | null = null;
  #resting = 0;

  /** `walk`: pens in the order in which they are seen. `atRest`: all is judged, and nobody taps. */
  constructor(walk: () => string[], atRest: () => void) {
    [this.#walk, this.#atRest] = [walk, atRest];
  }

  /** Undefined until it is known. */
  doe(id: string): DoeResult | undefined {
    return box(this.#does, id).now;
  }
  pen(id: string): Prompt | null {
    return box(this.#pens, id).now ?? null;
  }
  /** What was said of her at this meal. */
  ate(id: string): Intake | undefined {
    return box(this.#ate, id).now;
  }

  /** What a change has left open; the doe it was about at once, then her pen. */
  go(evaluation: Evaluation, tapped: string): void {
    if (evaluation === this.#now) return;
    this.#now = evaluation;
    const result = evaluation.first(tapped);
    if (result) this.#putDoe(tapped, result);
    void this.#run(evaluation, [evaluation.ctx.view.does[tapped]?.pen ?? tapped, ...this.#walk()]);
  }
  stop(): void {
    this.#now = null;
  }
  /** The page is left, and may never be seen again. */
  leave(): void {
    if (this.#now?.finished) this.#atRest();
  }

  async #run(evaluation: Evaluation, first: string[]): Promise<void> {
    await drawn();
    let since = performance.now();
    for (const unit of evaluation.steps(first)) {
      if (this.#now !== evaluation) return;
      if (unit !== undefined) this.#putUnit(unit, evaluation);
      if (performance.now() - since < SLICE_MS && !waits()) continue;
      await rest();
      since = performance.now();
    }
    clearTimeout(this.#resting);
    this.#resting = window.setTimeout(() => {
      if (this.#now === evaluation) this.#atRest();
    }, REST_MS);
  }

  #putUnit(unit: string, evaluation: Evaluation): void {
    const found = evaluation.unit(unit);
    if (this.#shown.get(unit) === found) return;
    this.#shown.set(unit, found);
    this.units += 1;
    this.show({ does: found.does, pens: { [unit]: found.prompt } });
  }
  #putDoe(id: string, result: DoeResult): void {
    const shown = box(this.#does, id);
    if (!shown.now || face(shown.now) !== face(result)) shown.now = result;
  }
  putMeal(said: Map<string, Intake>): void {
    for (const [id, ate] of this.#ate) ate.now = said.get(id);
  }
  show({ does, pens }: Pick<Picture, "does" | "pens">): void {
    for (const [id, result] of Object.entries(does)) this.#putDoe(id, result);
    for (const [id, prompt] of Object.entries(pens)) box(this.#pens, id).now = prompt;
  }
  /** A signal made by whoever reads it first is not heard by that reader: they are made before anybody reads. */
  meet({ does, pens }: Pick<View, "does" | "pens">): void {
    for (const id of Object.keys(does)) {
      box(this.#does, id);
      box(this.#ate, id);
    }
    for (const id of Object.keys(pens)) box(this.#pens, id);
  }
  clear(): void {
    this.#shown.clear();
    for (const boxes of [this.#does, this.#pens, this.#ate]) for (const each of boxes.values()) each.now = undefined;
  }
}

function box<T>(boxes: Boxes<T>, id: string): Box<T> {
  let found = boxes.get(id);
  if (!found) boxes.set(id, (found = new Box<T>()));
  return found;
}
