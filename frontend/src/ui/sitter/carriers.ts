import { session } from "../model/session.svelte.ts";

/** Who goes by a pack now, by name. */
export function carriersOf(pack: string): string {
  const here = (session.farm?.people ?? []).filter((person) => !person.gone && person.pack === pack);
  return here.map(({ name }) => name).join(", ");
}
