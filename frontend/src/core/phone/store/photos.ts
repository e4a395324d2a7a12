import type { Env } from "../../base/env.ts";
import { Connection } from "./connection.ts";
import { PHONE_MIGRATIONS } from "./migrations.ts";
import { photosOf } from "./room.ts";

/** Pictures taken on this phone, for whoever uses the farm on it. They are never sent and are no part of the log. */
export class Photos {
  readonly #connection: Connection;

  constructor(farm: string, env: Env) {
    this.#connection = new Connection({ name: photosOf(farm), env, migrations: PHONE_MIGRATIONS });
  }

  /** A data address, or "". */
  async of(id: string): Promise<string> {
    const row = await this.#connection.read(["meta"], (tx) => tx.objectStore("meta").get(id));
    return typeof row?.value === "string" ? row.value : "";
  }

  keep(id: string, url: string): Promise<void> {
    return this.#connection.write(["meta"], async (tx) => {
      if (url) await tx.objectStore("meta").put({ key: id, value: url });
      else await tx.objectStore("meta").delete(id);
    });
  }

  close(): void {
    this.#connection.close();
  }
}
