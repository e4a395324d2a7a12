import { CHAIN_KINDS, RECORD_KINDS, VERSIONS, type Kind } from "../tables/entries.ts";

/** The closed list of event kinds, the versions this app writes, and the codes entries carry. */
export * from "../tables/entries.ts";

/** What this build can read; any other event is kept and parked. */
export function isKnown(kind: string, v: number): kind is Kind {
  if (typeof kind !== "string" || !Object.hasOwn(VERSIONS, kind)) return false;
  return Number.isSafeInteger(v) && v >= 1 && v <= VERSIONS[kind as Kind];
}

/** Placed by their stamps, which were put right, and not by their day. */
export const STAMPED: ReadonlySet<string> = new Set([
  ...RECORD_KINDS, ...CHAIN_KINDS, "ration", "wish", "decline", "kit_used",
]);
