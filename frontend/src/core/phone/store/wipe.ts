import type { Env } from "../../base/env.ts";
import { WIPED } from "../farm_parts.ts";
import { ALL, FarmStore } from "./farm_store.ts";
import { mediaNameOf } from "./media.ts";
import { deleted, photosOf } from "./room.ts";
import { forget_wait } from "../waits.ts";

type Kept = Pick<Env, "indexedDB" | "marks" | "channel">;

/** Takes a farm from this phone: all of it, or all but what waits to be sent. */
export async function wipe(store: FarmStore, env: Kept, keep_waiting: boolean): Promise<void> {
  if (keep_waiting) return only_waiting(store);
  store.close();
  forget_wait(env, store.name);
  const channel = env.channel?.(store.name);
  channel?.postMessage(WIPED);
  channel?.close();
  await deleted(env, store.name);
}

/** What somebody recorded outlasts her sign-out; the farm it was recorded on does not. */
function only_waiting(store: FarmStore): Promise<void> {
  return store.connection.write([...ALL, "picture"], async (tx) => {
    const waiting = new Set((await tx.objectStore("outbox").getAll()).map(({ id }) => id));
    for (const { id } of await tx.objectStore("events").getAll()) {
      if (!waiting.has(id)) await tx.objectStore("events").delete(id);
    }
    for (const { key } of await tx.objectStore("meta").getAll()) {
      if (key !== "born" && key !== "clock") await tx.objectStore("meta").delete(key);
    }
    await tx.objectStore("outlooks").clear();
    await tx.objectStore("picture").clear();
  });
}

export interface Left {
  person: string;
  farms: string[];
  /** Farms of the others who use this phone: their pictures stay. */
  of_others: string[];
}

/** Somebody signs out: nothing of her farms stays, but what she wants to keep until she is back. */
export async function wipe_person(env: Env, { person, farms, of_others }: Left, keep_waiting: boolean): Promise<void> {
  for (const farm of farms) {
    const store = new FarmStore(person, farm, env);
    const waits = keep_waiting && (await store.unsent().catch(() => [])).length > 0;
    await wipe(store, env, waits).catch(() => undefined);
    store.close();
    if (of_others.includes(farm)) continue;
    if (waits) await deleted(env, photosOf(farm)).catch(() => undefined);
    else await wipe_pictures(env, farm);
  }
}

/** Nobody on this phone is on that farm any more. */
export async function wipe_pictures(env: Kept, farm: string): Promise<void> {
  for (const name of [photosOf(farm), mediaNameOf(farm)]) await deleted(env, name).catch(() => undefined);
}
