import type { IDBPDatabase, IDBPTransaction } from "idb";
import type { Env } from "../../base/env.ts";
import { StoreError, storeError } from "./errors.ts";
import { FARM_MIGRATIONS } from "./migrations.ts";
import { promised } from "./promised.ts";
import type { FarmSchema, StoreName } from "./rows.ts";
import { CALL_MS, withinTime } from "./timer.ts";

type Db = IDBPDatabase<FarmSchema>;
type Mode = "readonly" | "readwrite";
export type Tx<M extends Mode> = IDBPTransaction<FarmSchema, StoreName[], M>;
type Work<M extends Mode, T> = (tx: Tx<M>) => Promise<T>;

export interface ConnectionOptions {
  name: string;
  env: Pick<Env, "indexedDB" | "setTimer" | "clearTimer" | "random">;
  migrations: ((db: IDBDatabase) => void)[];
  onOutdated?: () => void;
  /** The database was taken away under the open app. */
  onLost?: () => void;
}

/** What tells one database from a later one of the same name. Those of before have none. */
export const BORN = "born";

/** One database. Work may run twice (a retry on a fresh connection), so it must only put and delete. */
export class Connection {
  readonly #options: ConnectionOptions;
  readonly #running = new Set<{ abort(): void }>();
  #db: Promise<Db> | null = null;
  #outdated = false;

  constructor(options: ConnectionOptions) {
    this.#options = options;
  }

  read<T>(stores: StoreName[], work: Work<"readonly", T>, extra_ms = 0): Promise<T> {
    return this.#twice(() => this.#run("readonly", stores, work), extra_ms);
  }

  /** Resolves only when the transaction is complete: a request's success is not yet "saved". */
  write<T>(stores: StoreName[], work: Work<"readwrite", T>, extra_ms = 0): Promise<T> {
    return this.#twice(() => this.#run("readwrite", stores, work), extra_ms);
  }

  close(): void {
    void this.#db?.then((db) => db.close(), () => undefined);
    this.#db = null;
  }

  async #twice<T>(attempt: () => Promise<T>, extra_ms: number): Promise<T> {
    const once = () => withinTime(attempt(), CALL_MS + extra_ms, this.#options.env);
    try {
      return await once();
    } catch (cause) {
      const error = storeError(cause);
      if (this.#outdated || !["lost", "timeout"].includes(error.code)) throw error;
      this.#dropConnection();
      return once().catch((again) => Promise.reject(storeError(again)));
    }
  }

  async #run<M extends Mode, T>(mode: M, stores: StoreName[], work: Work<M, T>): Promise<T> {
    if (this.#outdated) throw new StoreError("closed");
    this.#db ??= this.#open();
    const tx = (await this.#db).transaction(stores, mode, { durability: mode === "readwrite" ? "strict" : "default" });
    const ended = tx.done.then(() => null, (error: unknown) => tx.error ?? error);
    this.#running.add(tx);
    try {
      const result = await work(tx).catch((error: unknown) => giveUp(tx, ended, error));
      const failure = await ended;
      if (failure) throw failure;
      return result;
    } finally {
      this.#running.delete(tx);
    }
  }

  /** A transaction that hangs holds its stores against every later one, so it is aborted before the retry. */
  #dropConnection(): void {
    for (const tx of this.#running) abortQuietly(tx);
    this.#running.clear();
    this.close();
  }

  #open(): Promise<Db> {
    const taken = {
      onOutdated: () => {
        this.#outdated = true;
        this.#options.onOutdated?.();
      },
      onLost: () => {
        if (this.#db === opened) this.#db = null;
        this.#options.onLost?.();
      },
    };
    const opened = openOnce(this.#options, taken);
    opened.catch(() => (this.#db = null));
    return opened;
  }
}

interface Taken {
  onOutdated: () => void;
  onLost: () => void;
}

function openOnce({ name, env, migrations }: ConnectionOptions, taken: Taken): Promise<Db> {
  return new Promise((resolve, reject) => {
    const request = env.indexedDB.open(name, migrations.length);
    request.onupgradeneeded = ({ oldVersion }) => {
      migrations.slice(oldVersion).forEach((step) => step(request.result));
      const meta = request.transaction!.objectStore("meta");
      if (oldVersion === 0) meta.put({ key: BORN, value: env.random(8).join("") });
    };
    request.onerror = () => reject(storeError(request.error));
    // While another tab still holds the old version, nothing happens here: the timer ends the wait, and a retry
    // follows.
    request.onsuccess = () => resolve(promised(release(request.result, taken)) as unknown as Db);
  });
}

/** A newer app in another tab must be able to upgrade, so this one lets go at once; and so it does of one deleted. */
function release(db: IDBDatabase, { onOutdated, onLost }: Taken): IDBDatabase {
  db.onversionchange = ({ newVersion }) => {
    db.close();
    if (newVersion === null) onLost();
    else onOutdated();
  };
  db.onclose = onLost;
  return db;
}

/** On a full disk the reason stands on the transaction and not on the request that failed. */
async function giveUp(tx: { abort(): void }, ended: Promise<unknown>, error: unknown): Promise<never> {
  abortQuietly(tx);
  const reason = await ended;
  throw reason instanceof Error && reason.name === "QuotaExceededError" ? reason : error;
}

function abortQuietly(tx: { abort(): void }): void {
  try {
    tx.abort();
  } catch {
    // Already finished or aborted: nothing left to undo.
  }
}

/** Of a farm's database, and of the one whose content it took over: made if it is not there. */
export async function bornsOf(name: string, env: ConnectionOptions["env"]): Promise<string[]> {
  const connection = new Connection({ name, env, migrations: FARM_MIGRATIONS });
  try {
    return await connection.read(["meta"], async (tx) => {
      const [born, was] = await Promise.all([BORN, "was"].map((key) => tx.objectStore("meta").get(key)));
      return borns_of({ born: born?.value as string | undefined, was: was?.value as string | undefined });
    });
  } finally {
    connection.close();
  }
}

export function borns_of({ born = "", was = born }: { born?: string | undefined; was?: string | undefined }): string[] {
  return [born, was];
}
