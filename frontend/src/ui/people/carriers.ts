import type { PersonRow } from "../../core/phone/store/rows.ts";
import { session } from "../model/session.svelte.ts";

/** Who goes by a pack now. */
export const carriers = (pack: string): PersonRow[] =>
  (session.farm?.people ?? []).filter((person) => !person.gone && person.pack === pack);

export const carriersOf = (pack: string): string => carriers(pack).map(({ name }) => name).join(", ");
