import { Clock } from "../base/clock.ts";
import type { Env } from "../base/env.ts";
import type { FarmOptions } from "./farm_shapes.ts";
import { FarmStore } from "./store/farm_store.ts";

export const NAMELESS = { who: "", farm_name: "" };

interface Told {
  onOutdated: () => void;
  onLost: () => void;
}

/** Where the farm is kept on this phone, and the clock its entries go by. */
export function storage(options: FarmOptions, env: Env, device: string, told: Told): { clock: Clock; store: FarmStore } {
  const { person, farmId, parts, store: opened } = options;
  const [clock, store] = [new Clock(device), opened ?? new FarmStore(person, farmId, env)];
  Object.assign(store, told);
  return { clock: parts?.clock?.(clock) ?? clock, store: parts?.store?.(store) ?? store };
}
