import type { Env } from "../../base/env.ts";
import { Connection } from "./connection.ts";
import { PHONE_MIGRATIONS } from "./migrations.ts";
import { photosOf } from "./room.ts";

/** Pictures that lie beside what is being typed, on this phone alone. They are no part of the log. */
export class Photos {
  readonly #connection: Connection;

  constructor(farm: string, env: Env) {
    this.#connection = new Connection({ name: photosOf(farm), env, migrations: PHONE_MIGRATIONS });
  }

  of(id: string): Promise<unknown> {
    return this.#connection.read(["meta"], async (tx) => (await tx.objectStore("meta").get(id))?.value);
  }

  keep(id: string, value: unknown): Promise<void> {
    return this.#connection.write(["meta"], async (tx) => void (await tx.objectStore("meta").put({ key: id, value })));
  }

  drop(id: string): Promise<void> {
    return this.#connection.write(["meta"], (tx) => tx.objectStore("meta").delete(id));
  }

  close(): void {
    this.#connection.close();
  }
}
