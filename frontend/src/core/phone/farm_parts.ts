import { Clock } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import type { Channel, Env } from "../base/env.ts";
import { makeEvent, type Draft, type Envelope, type Pen } from "../events/events.ts";
import type { FarmOptions, When } from "./farm_shapes.ts";
import { FarmStore } from "./store/farm_store.ts";

/** Said on the channel that goes by the database's name. */
export const WIPED = "wiped";
export const NAMELESS = { who: "", farm_name: "" };

/** Word from the other tabs: that one has written, or that nothing of the farm is to stay. */
export function otherTabs(env: Env, name: string, written: () => void, wiped: () => void): Channel | null {
  const channel = env.channel?.(name) ?? null;
  if (channel) channel.onmessage = ({ data }) => (data === WIPED ? wiped() : written());
  return channel;
}

interface Told {
  onOutdated: () => void;
  onLost: () => void;
}

/** Where the farm is kept on this phone, and the clock its entries go by. */
export function storage(
  options: FarmOptions, env: Env, device: string, told: Told,
): { clock: Clock; store: FarmStore } {
  const { person, farmId, parts, store: opened } = options;
  const [clock, store] = [new Clock(device), opened ?? new FarmStore(person, farmId, env)];
  Object.assign(store, told);
  return { clock: parts?.clock?.(clock) ?? clock, store: parts?.store?.(store) ?? store };
}

/** What a tap writes: when it was, unless something else is said, is now. */
export function made(
  what: Pick<Draft, "kind" | "subject" | "data">, { happened, on, slot = "" }: When,
  pen: Pick<Pen, "author" | "device" | "clock">, { now, random }: Env, zone: FarmZone,
): Envelope {
  const at = happened ?? now();
  return makeEvent({ ...what, happened: at, on: on ?? zone.dateAt(at), slot }, { ...pen, now: now(), random });
}
