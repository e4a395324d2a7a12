import type { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import type { Dice } from "../support/random.ts";

const STUMBLES = new Set<string | symbol>(["applyReply", "applySnapshot", "load"]);
const NEVER = new Promise<never>(() => undefined);

/** One run of the app on a phone: from opening to the moment the process is gone. What was awaited then never comes. */
export class Life {
  readonly died: Promise<"died">;
  crash_chance = 0;
  /** How often what storage has just done cannot be taken in. */
  stumble_chance = 0;
  #dead = false;
  #die!: () => void;
  readonly #dice: Dice;
  readonly #stumbled: () => void;

  constructor(dice: Dice, stumbled: () => void) {
    [this.#dice, this.#stumbled] = [dice, stumbled];
    this.died = new Promise((resolve) => (this.#die = () => resolve("died")));
  }

  get dead(): boolean {
    return this.#dead;
  }

  end(): void {
    this.#dead = true;
    this.#die();
  }

  /** A place where the process may be killed, some of them more often than others. */
  async mayEnd(times = 1): Promise<void> {
    if (!this.#dead && this.#dice.chance(times * this.crash_chance)) this.end();
    if (this.#dead) await NEVER;
  }

  /** The same store, in a process that may end before or after any transaction, never inside one. */
  over(store: FarmStore): FarmStore {
    return new Proxy(store, {
      get: (target, name) => {
        const value = Reflect.get(target, name, target) as unknown;
        if (typeof value !== "function" || name === "close") return bound(value, target);
        return async (...given: unknown[]) => {
          await this.mayEnd();
          const result = (await Reflect.apply(value, target, given)) as unknown;
          await this.mayEnd();
          const stumbles = STUMBLES.has(name) && this.#dice.chance(this.stumble_chance);
          if (stumbles) this.#stumbled();
          if (stumbles) throw new TypeError("not what it should be");
          return result;
        };
      },
    });
  }
}

function bound(value: unknown, target: object): unknown {
  return typeof value === "function" ? (value as (...all: unknown[]) => unknown).bind(target) : value;
}
