import type { Env } from "../base/env.ts";
import { carry, to_file, type Carried } from "./carried.ts";
import type { Keeping } from "./keeping.ts";
import type { FarmStore } from "./store/farm_store.ts";
import type { Names } from "./waits.ts";

/** How entries leave a phone, and come to another one, without a server: what of a farm that takes. */
export interface ByFile {
  farm: string;
  person: string;
  names: Names;
  env: Env;
  store: FarmStore;
  keeping: Keeping;
  /** Something waits that did not before. */
  carried: () => void;
}

/** Everything not yet on the server, one entry a line, to be read by whoever is asked for help. */
export function asText(by_file: ByFile): string {
  return textsOf(by_file).join("\n");
}

/** The same as a file that another phone of the farm can load. */
export function asFile(by_file: ByFile): string {
  const { farm, person, names, env } = by_file;
  return to_file(textsOf(by_file), { farm, farm_name: names.farm_name, person, who: names.who, at: env.now() });
}

/** Takes what somebody brought from another phone; says how many entries were not here already. */
export async function takeFile({ store, keeping, carried: told }: ByFile, carried: Carried): Promise<number> {
  const n = await carry(store, carried);
  await keeping.reload();
  told();
  return n;
}

function textsOf({ keeping }: ByFile): string[] {
  return keeping.memory.unknown_to_server().map(({ text }) => text);
}
