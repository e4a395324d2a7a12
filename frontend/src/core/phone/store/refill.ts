import type { Tx } from "./connection.ts";
import { ALL, type FarmStore, type Loaded } from "./farm_store.ts";
import type { EventRow, FarmSchema, StoreName } from "./rows.ts";

type Writing = Tx<"readwrite">;

/**
 * What memory holds, into a database that has taken the place of the one it was read from. Another tab may have filled
 * it already: then what only waits is added, and nothing it knows better is undone.
 */
export function refill(store: FarmStore, { events, outbox, outlooks, meta }: Loaded): Promise<void> {
  const waiting = new Set(outbox.map(({ id }) => id));
  return store.connection.write(ALL, async (tx) => {
    const filled = (await tx.objectStore("meta").get("epoch")) !== undefined;
    if (!filled) {
      for (const row of outlooks) put(tx, "outlooks", row);
      for (const [key, value] of Object.entries(meta)) put(tx, "meta", { key, value });
    }
    put(tx, "meta", { key: "was", value: meta.was });
    const wanted = async (id: string) => !filled || (waiting.has(id) && !(await settled(tx, id)));
    for (const row of events) if (isHers(row, waiting) && (await wanted(row.id))) put(tx, "events", row);
    for (const row of outbox) if (await wanted(row.id)) put(tx, "outbox", row);
  }, 60_000);
}

/** What others have left here and not sent counts in memory, and stays in their databases. */
function isHers({ id, st }: EventRow, waiting: Set<string>): boolean {
  return st !== "waiting" || waiting.has(id);
}

async function settled(tx: Writing, id: string): Promise<boolean> {
  const held = await tx.objectStore("events").get(id);
  return held !== undefined && held.st !== "waiting";
}

function put<S extends StoreName>(tx: Writing, store: S, value: FarmSchema[S]["value"]): void {
  tx.objectStore(store).put(value).catch(() => undefined);
}
