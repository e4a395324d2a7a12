import { empty } from "../../core/state/empty.ts";
import type { View } from "./shapes.ts";

export class Box<T> {
  now = $state.raw<T>() as T;
}

/**
 * The farm's view with a signal for each of its parts: a meal draws anew what shows meals and nothing else. It is
 * always the same object, so what is worked out once must be kept by the part it came from.
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
