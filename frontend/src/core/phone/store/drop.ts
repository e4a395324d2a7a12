import type { Env } from "../../base/env.ts";
import { databaseName } from "./farm_store.ts";

/** Nothing of the farm is left on this phone. Whoever still has it open keeps it until they let go. */
export function dropFarm(env: Pick<Env, "indexedDB">, person: string, farm: string): void {
  env.indexedDB.deleteDatabase(databaseName(person, farm));
}
