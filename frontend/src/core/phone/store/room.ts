import type { Env } from "../../base/env.ts";
import type { FarmStore } from "./farm_store.ts";

/**
 * On a full phone an entry goes before all else. What can be had again goes first: what the list looked like, then
 * pictures, which are no part of the log, and last the outlooks, which the farm's server sends again.
 */
export function makeRoom(store: FarmStore, farm: string, env: Pick<Env, "indexedDB">): (() => Promise<void>)[] {
  const { connection } = store;
  return [
    () => connection.write(["picture"], async (tx) => void (await tx.objectStore("picture").clear())),
    () => deleted(env, photosOf(farm)),
    () => connection.write(["outlooks", "meta"], async (tx) => {
      await tx.objectStore("outlooks").clear();
      const held = (await tx.objectStore("meta").get("cursor"))?.value as { seq: number } | undefined;
      if (held) await tx.objectStore("meta").put({ key: "cursor", value: { ...held, outlook_rev: 0 } });
    }),
  ];
}

export function photosOf(farm: string): string {
  return `mangerline/photos/${farm}`;
}

/** Whoever holds it open lets go; a tab that does not keeps it until it is closed. */
export function deleted({ indexedDB }: Pick<Env, "indexedDB">, name: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.deleteDatabase(name);
    request.onsuccess = request.onblocked = () => resolve();
    request.onerror = () => reject(request.error!);
  });
}
