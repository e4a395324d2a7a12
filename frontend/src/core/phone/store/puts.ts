import type { Tx } from "./connection.ts";
import type { EventRow, FarmSchema, StoreName } from "./rows.ts";
import { outboxRow } from "./settle.ts";

/** A transaction that writes. */
export type Writing = Tx<"readwrite">;

export function put<S extends StoreName>(tx: Writing, store: S, value: FarmSchema[S]["value"]): void {
  quietly(tx.objectStore(store).put(value));
}

export function drop(tx: Writing, store: "events" | "outbox", key: string): void {
  quietly(tx.objectStore(store).delete(key));
}

/** Not awaited one by one, which would be many times slower: one that fails aborts the transaction, and is seen. */
export function quietly(request: Promise<unknown>): void {
  request.catch(() => undefined);
}

/** What it was given when first taken goes with it: a new stamp would set it above what people answered to it. */
export function offer_again(tx: Writing, row: EventRow): void {
  const { receipt, eff } = row;
  put(tx, "events", { ...row, st: "waiting", seq: 0, hidden: false });
  put(tx, "outbox", { ...outboxRow(row), ...(receipt && { proof: { receipt, eff } }) });
}
