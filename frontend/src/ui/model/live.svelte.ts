import { empty } from "../../core/state/fold.ts";
import type { Picture } from "../../core/phone/picture.ts";
import type { DoeResult, Prompt } from "./results.ts";
import type { Intake, View } from "./shapes.ts";

class Box<T> {
  now = $state.raw<T>() as T;
}

/**
 * The farm's view with a signal for each of its parts: a meal draws anew what shows meals and nothing else. It is always
 * the same object, so what is worked out once must be kept by the part it came from.
 */
export class LiveView {
  readonly #parts = new Map<string, Box<unknown>>();
  readonly view = {} as View;

  constructor() {
    const nothing = empty();
    for (const key of Object.keys(nothing)) {
      const part = new Box<unknown>();
      this.#parts.set(key, part);
      Object.defineProperty(this.view, key, { enumerable: true, get: () => part.now });
    }
    this.show(nothing);
  }

  show(view: View): void {
    for (const [key, part] of this.#parts) part.now = view[key as keyof View];
  }
}

/** What a list can show of a result. The numbers behind it move with every meal and stand on her own page alone. */
function face({ lines, fibre, risk, ...rest }: DoeResult): string {
  const { me } = lines;
  return JSON.stringify([rest, me && [me.st, me.sure, me.ahead]]);
}

type Boxes<T> = Map<string, Box<T>>;

/** What was last worked out of each doe and each pen, a signal each, filled in the order in which it becomes known. */
export class Judged {
  readonly #does: Boxes<DoeResult | undefined> = new Map();
  readonly #pens: Boxes<Prompt | null | undefined> = new Map();
  readonly #ate: Boxes<Intake | undefined> = new Map();

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
  putDoe(id: string, result: DoeResult): void {
    const shown = box(this.#does, id);
    if (!shown.now || face(shown.now) !== face(result)) shown.now = result;
  }
  putPen(id: string, prompt: Prompt | null): void {
    box(this.#pens, id).now = prompt;
  }
  putMeal(said: Map<string, Intake>): void {
    for (const [id, ate] of this.#ate) ate.now = said.get(id);
  }
  show({ does, pens }: Pick<Picture, "does" | "pens">): void {
    for (const [id, result] of Object.entries(does)) this.putDoe(id, result);
    for (const [id, prompt] of Object.entries(pens)) this.putPen(id, prompt);
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
    for (const boxes of [this.#does, this.#pens, this.#ate]) for (const each of boxes.values()) each.now = undefined;
  }
}

function box<T>(boxes: Boxes<T>, id: string): Box<T> {
  let found = boxes.get(id);
  if (!found) boxes.set(id, (found = new Box<T>()));
  return found;
}
