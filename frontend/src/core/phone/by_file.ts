import type { Env } from "../base/env.ts";
import { carry, to_file, type Carried } from "./carried.ts";
import type { Keeping } from "./keeping.ts";
import type { FarmStore } from "./store/farm_store.ts";
import type { Names } from "./waits.ts";

interface Parts {
  farm: string;
  person: string;
  names: Names;
  env: Env;
  store: FarmStore;
  keeping: Keeping;
  /** Something waits that did not before. */
  carried: () => void;
}

/** How entries leave a phone, and come to another one, without a server. */
export class ByFile {
  readonly #parts: Parts;

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  /** Everything not yet on the server, one entry a line, to be read by whoever is asked for help. */
  asText(): string {
    return this.#texts().join("\n");
  }

  /** The same as a file that another phone of the farm can load. */
  asFile(): string {
    const { farm, person, names, env } = this.#parts;
    return to_file(this.#texts(), { farm, farm_name: names.farm_name, person, who: names.who, at: env.now() });
  }

  /** Takes what somebody brought from another phone; says how many entries were not here already. */
  async take(carried: Carried): Promise<number> {
    const { store, keeping, carried: told } = this.#parts;
    const n = await carry(store, carried);
    await keeping.reload();
    told();
    return n;
  }

  #texts(): string[] {
    return this.#parts.keeping.memory.unknown_to_server().map(({ text }) => text);
  }
}
