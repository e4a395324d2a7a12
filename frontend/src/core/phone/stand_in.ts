import { Incoming } from "./memory.ts";
import { StoreError } from "./store/errors.ts";
import type { Verdict } from "./store/farm_store.ts";
import type { Cursor, EventRow, Meta, OutboxRow } from "./store/rows.ts";
import { newsIn, type Settled } from "./store/settle.ts";
import type { Changes } from "./sync/wire.ts";

/** While storage refuses, memory stands in for it: what comes counts, what goes is crossed off as it is answered. */

/** A newer app that has taken the database over is another matter: this one must not go on beside it. */
export function refuses(error: unknown): error is StoreError {
  return error instanceof StoreError && error.code !== "closed";
}

/** What storage would have said of an answer. */
export function judged_here(
  settled: Settled, changes: Changes, { epoch, cursor }: { epoch: Meta["epoch"] | undefined; cursor: Cursor },
): Verdict {
  if (epoch !== changes.epoch) return { kind: "other_epoch", events: [] };
  return { kind: newsIn(changes, cursor) < 0 ? "gap" : "applied", events: settled.events };
}

/** The farm's short list, and beside it what only this phone knows. */
export function beside_own(rows: EventRow[], own: EventRow[], outbox: OutboxRow[]): [Incoming, OutboxRow[]] {
  const [incoming, here] = [new Incoming(), new Set(rows.map(({ id }) => id))];
  const left = outbox.filter(({ id }) => !here.has(id));
  const unknown = new Set(left.map(({ id }) => id));
  incoming.take([...rows, ...own.filter(({ id }) => unknown.has(id))]);
  return [incoming, left];
}
