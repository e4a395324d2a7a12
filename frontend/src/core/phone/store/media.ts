import type { Env } from "../../base/env.ts";
import { Connection, type Tx } from "./connection.ts";
import { StoreError } from "./errors.ts";
import { MEDIA_MIGRATIONS } from "./migrations.ts";
import type { MediaRow, UnsentRow } from "./rows.ts";

const ALL: ["media", "unsent"] = ["media", "unsent"];

/**
 * Pictures and recordings of a farm on this phone, by their marks. Apart from the entries: where room runs out, what
 * the server has can go, and no entry ever waits for a picture.
 */
export class MediaStore {
  readonly #connection: Connection;

  constructor(farm: string, env: Pick<Env, "indexedDB" | "setTimer" | "clearTimer" | "random">) {
    this.#connection = new Connection({ name: `mangerline/media/${farm}`, env, migrations: MEDIA_MIGRATIONS });
  }

  of(sha256: string): Promise<MediaRow | undefined> {
    return this.#connection.read(["media"], (tx) => tx.objectStore("media").get(sha256));
  }

  marks(): Promise<string[]> {
    return this.#connection.read(["media"], (tx) => tx.objectStore("media").getAllKeys());
  }

  /** One made here: it waits for the server. What was fetched makes room for it. */
  async keepOwn(row: MediaRow): Promise<void> {
    try {
      await this.#put(row);
    } catch (error) {
      if (!(error instanceof StoreError) || error.code !== "quota") throw error;
      await this.letGo();
      await this.#put(row);
    }
  }

  /** One the server has. Where there is no room for it, it is fetched again when somebody looks. */
  keepFetched(row: MediaRow): Promise<void> {
    return this.#connection.write(["media"], async (tx) => void (await tx.objectStore("media").put(row)));
  }

  unsent(): Promise<UnsentRow[]> {
    return this.#connection.read(["unsent"], (tx) => tx.objectStore("unsent").getAll());
  }

  sent(sha256: string): Promise<void> {
    return this.#connection.write(["unsent"], (tx) => tx.objectStore("unsent").delete(sha256));
  }

  /** The server will not have it, and says why: it stays here to be seen. */
  refused(sha256: string, code: string): Promise<void> {
    const row = { sha256, code };
    return this.#connection.write(["unsent"], async (tx) => void (await tx.objectStore("unsent").put(row)));
  }

  /** Everything the server has goes from this phone. */
  letGo(): Promise<void> {
    return this.#connection.write(ALL, async (tx) => {
      const waiting = new Set(await tx.objectStore("unsent").getAllKeys());
      const held = await tx.objectStore("media").getAllKeys();
      await Promise.all(held.filter((one) => !waiting.has(one)).map((one) => tx.objectStore("media").delete(one)));
    });
  }

  close(): void {
    this.#connection.close();
  }

  #put(row: MediaRow): Promise<void> {
    return this.#connection.write(ALL, async (tx: Tx<"readwrite">) => {
      await tx.objectStore("media").put(row);
      await tx.objectStore("unsent").put({ sha256: row.sha256, code: "" });
    });
  }
}
