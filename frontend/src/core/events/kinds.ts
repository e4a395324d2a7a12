import { VERSIONS, type Kind } from "../tables/entries.ts";

/** The closed list of event kinds, the versions this app writes, and the codes entries carry. */
export * from "../tables/entries.ts";

/** What this build can read; any other event is kept and parked. */
export function isKnown(kind: string, v: number): kind is Kind {
  if (typeof kind !== "string" || !Object.hasOwn(VERSIONS, kind)) return false;
  return Number.isSafeInteger(v) && v >= 1 && v <= VERSIONS[kind as Kind];
}
