export type StoreCode = "quota" | "timeout" | "blocked" | "lost" | "closed" | "failed" | "replaced";

/**
 * The phone's own storage refused; `replaced`: it is empty, and another one than before.
 * `lost` and `timeout` are worth one more try on a fresh connection.
 */
export class StoreError extends Error {
  readonly code: StoreCode;

  constructor(code: StoreCode, cause?: unknown) {
    super(`storage: ${code}`, { cause });
    this.code = code;
  }
}

const LOST = new Set(["InvalidStateError", "UnknownError", "AbortError", "TransactionInactiveError"]);

export function storeError(error: unknown): StoreError {
  if (error instanceof StoreError) return error;
  const name = error instanceof Error || error instanceof DOMException ? error.name : "";
  if (name === "QuotaExceededError") return new StoreError("quota", error);
  return new StoreError(LOST.has(name) ? "lost" : "failed", error);
}
