import type { Env } from "../../base/env.ts";
import { newDeviceId } from "../../base/ids.ts";
import type { FarmEntry } from "../sync/session.ts";
import { BORN, Connection } from "./connection.ts";
import { PHONE_MIGRATIONS } from "./migrations.ts";
import type { Seat } from "./rows.ts";

/** Chromium never answers what is asked of a database in the very moment it is cleared. */
const LOST_MS = 250;

/** Somebody's farms, and the one they had open, so that the app opens on it with no signal. */
export interface LastUse {
  person: { id: string; name: string };
  farms: FarmEntry[];
  farm: string;
}

export interface Known {
  last: LastUse | null;
  users: LastUse[];
  device: string | undefined;
  seats: Seat[];
}

/** What belongs to the phone and not to a person: its device id, who uses it, and whose farm to open. */
export class Phone {
  readonly #connection: Connection;
  readonly #env: Env;
  /** What is known to stand there: it is written again where the database is taken away under the open app. */
  readonly #held = new Map<string, unknown>();

  constructor(env: Env) {
    this.#env = env;
    const onLost = () => env.setTimer(() => void this.#refill().catch(() => undefined), LOST_MS);
    this.#connection = new Connection({ name: "mangerline/phone", env, migrations: PHONE_MIGRATIONS, onLost });
  }

  /** Another tab may have been sooner: what is there stays. */
  async #refill(): Promise<void> {
    await this.#connection.write(["meta"], async (tx) => {
      const meta = tx.objectStore("meta");
      const there = new Set((await meta.getAll()).map(({ key }) => key));
      for (const [key, value] of this.#held) if (!there.has(key)) void meta.put({ key, value });
    });
  }

  async #put(values: Record<string, unknown>): Promise<void> {
    await this.#connection.write(["meta"], async (tx) => {
      for (const [key, value] of Object.entries(values)) await tx.objectStore("meta").put({ key, value });
    });
    for (const [key, value] of Object.entries(values)) this.#held.set(key, value);
  }

  /** Made once; asking twice at the same moment gives one id, since reading and writing are one transaction. */
  async device(): Promise<string> {
    const device = await this.#connection.write(["meta"], async (tx) => {
      const held = (await tx.objectStore("meta").get("device"))?.value;
      if (typeof held === "string") return held;
      const made = newDeviceId(this.#env.random);
      await tx.objectStore("meta").put({ key: "device", value: made });
      return made;
    });
    this.#held.set("device", device);
    return device;
  }

  async lastUse(): Promise<LastUse | null> {
    return (await this.known()).last;
  }

  /** Everybody who has signed in here and not out again, in the order they came. */
  async users(): Promise<LastUse[]> {
    return (await this.known()).users;
  }

  /** All of it in one reading: the app cannot open before. */
  async known(): Promise<Known> {
    const rows = await this.#connection.read(["meta"], (tx) => tx.objectStore("meta").getAll());
    for (const { key, value } of rows) if (key !== BORN) this.#held.set(key, value);
    const kept = Object.fromEntries(rows.map(({ key, value }) => [key, value]));
    const held = (kept["users"] as LastUse[] | undefined) ?? [];
    const last = (kept["last_use"] as LastUse | null | undefined) ?? null;
    // A phone from before there was a list knows one person.
    const users = last && !held.some(({ person }) => person.id === last.person.id) ? [...held, last] : held;
    const seats = (kept["seats"] as Seat[] | undefined) ?? [];
    return { last, users, device: kept["device"] as string | undefined, seats };
  }

  async remember(use: LastUse): Promise<void> {
    const held = await this.users();
    const known = held.some(({ person }) => person.id === use.person.id);
    const users = known ? held.map((each) => (each.person.id === use.person.id ? use : each)) : [...held, use];
    await this.#keep(use, users);
  }

  keepSeats(seats: Seat[]): Promise<void> {
    return this.#put({ seats });
  }

  /** Wrong PINs since the last right one. */
  tries(person: string): Promise<number> {
    return this.#connection.read(["meta"], async (tx) => {
      return Number((await tx.objectStore("meta").get(triesOf(person)))?.value ?? 0);
    });
  }

  /** One more, or as many as are said. */
  async tried(person: string, now?: number): Promise<number> {
    const tries = now ?? (await this.tries(person)) + 1;
    await this.#put({ [triesOf(person)]: tries });
    return tries;
  }

  async forget(person: string): Promise<void> {
    await this.#keep(null, (await this.users()).filter((use) => use.person.id !== person));
  }

  #keep(last: LastUse | null, users: LastUse[]): Promise<void> {
    return this.#put({ last_use: last, users });
  }

  close(): void {
    this.#connection.close();
  }
}

const triesOf = (person: string) => `tries ${person}`;

/** Where storage refuses altogether, the phone is somebody new for this one run: recording goes on. */
export async function deviceOf(env: Env): Promise<string> {
  const phone = new Phone(env);
  try {
    return await phone.device();
  } catch {
    return newDeviceId(env.random);
  } finally {
    phone.close();
  }
}
