import { APP, SCHEMA } from "../../base/versions.ts";
import type * as said from "../../tables/wire.ts";
import type { Cursor, Meta, OutboxRow } from "../store/rows.ts";

export const MOST_EVENTS = 200;
export const MOST_BYTES = 64_000;
const encoder = new TextEncoder();

/**
 * Of one device: the oldest unsent entries that fit in one request; a single entry always goes, however big. What was
 * brought from another phone goes last: the server may have no room for it yet.
 */
export function nextBatch(unsent: OutboxRow[], most_events: number): OutboxRow[] {
  const batch: OutboxRow[] = [];
  let bytes = 0;
  const own = unsent.filter(({ carried }) => !carried);
  const rows = own.length ? own : unsent;
  for (const row of rows) {
    bytes += encoder.encode(row.text).length + 1;
    if (row.device !== rows[0]!.device) break;
    if (batch.length >= most_events || (batch.length > 0 && bytes > MOST_BYTES)) break;
    batch.push(row);
  }
  return batch;
}

/** All but the entries. */
type Head = Omit<said.Push, "events" | "pending">;

interface Position {
  epoch: Meta["epoch"] | undefined;
  cursor: Cursor;
}

/** Who sends, from where in the log, and what shows that some of it was taken before. */
export function headOf(
  batch: OutboxRow[], { epoch, cursor }: Position, now: number, device = batch[0]?.device ?? "",
): Head {
  const offered = batch.flatMap(({ id, proof }) => (proof ? [[id, proof]] : []));
  const before = offered.length ? { before: Object.fromEntries(offered) } : {};
  const carried = batch[0]?.carried;
  return {
    device, app: APP, schema: SCHEMA, epoch: epoch ?? 0, now, cursor, ...before, ...(carried && { carried: true }),
  };
}

/** The events go in exactly as they were serialised; parsing and writing them again could change a byte. */
export function pushBody(head: Partial<Head & Pick<said.Push, "pending">>, batch: OutboxRow[]): string {
  return `${JSON.stringify(head).slice(0, -1)},"events":[${batch.map((row) => row.text).join(",")}]}`;
}
