import type { Env } from "../base/env.ts";
import type { Unsaved } from "./saving.ts";

/** What is recorded and not yet in storage when the page goes: put down beside it, taken up at the next opening. */
export class InHand {
  readonly #env: Env;
  readonly #at: string;
  /** The farm is closed: what others open meanwhile has hands of its own. */
  readonly close: () => void;

  constructor(env: Env, at: string, held: () => Unsaved[]) {
    [this.#env, this.#at] = [env, at];
    this.close = env.hand?.going(() => this.#put_down(held())) ?? (() => undefined);
  }

  #put_down(held: Unsaved[]): void {
    // Another tab may have put down its own.
    const all = new Map([...this.#lying(), ...held].map((one) => [one.row.id, one]));
    if (held.length) this.#env.hand?.write(this.#at, JSON.stringify([...all.values()]));
  }

  take_up(): Unsaved[] {
    const lying = this.#lying();
    if (lying.length) this.#env.hand?.write(this.#at, "");
    return lying.map((one) => ({ ...one, failed: false }));
  }

  #lying(): Unsaved[] {
    try {
      return JSON.parse(this.#env.hand?.read(this.#at) || "[]") as Unsaved[];
    } catch {
      return [];
    }
  }
}
