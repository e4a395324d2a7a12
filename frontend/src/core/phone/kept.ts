import type { Clock } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import type { Env } from "../base/env.ts";
import type { Envelope } from "../events/events.ts";
import { Diagnostics } from "./diagnostics.ts";
import { Docs } from "./docs.ts";
import { Memory } from "./memory.ts";
import { StoreError } from "./store/errors.ts";
import { START, type FarmStore } from "./store/farm_store.ts";
import type { Cursor, Meta } from "./store/rows.ts";
import type { Entry } from "./sync/wire.ts";
import { Waits, type Names } from "./waits.ts";

export interface KeepingParts {
  person: string;
  farm: string;
  /** As people call them, for whoever is told of entries that were lost. */
  names: Names;
  device: string;
  zone: FarmZone;
  env: Env;
  clock: Clock;
  store: FarmStore;
  /** Works through the entries of the first reading in steps; what it gives back is called once they count. */
  fold: (events: Envelope[]) => Promise<() => void>;
  /** Something that can be seen has changed. `stored`: other tabs can see it as well. */
  changed: (stored: boolean) => void;
}

/** What there is of the farm in memory, how far it goes, and what is known to be wrong with it. */
export class Kept {
  readonly memory = new Memory();
  readonly outlooks = new Docs();
  meta: Partial<Meta> = {};
  diagnostics = new Diagnostics();
  /** Storage could not even be read: whatever is recorded lives in memory alone. */
  broken = false;
  /** What came from the server could not be taken in: memory may lack some of it until the farm is fetched whole. */
  astray = false;
  /** Wiped from this phone. */
  gone = false;
  protected opened = false;
  protected readonly parts: KeepingParts;
  protected readonly waits: Waits;

  constructor(parts: KeepingParts) {
    this.parts = parts;
    const { person, farm, env, store, names } = parts;
    this.waits = new Waits(env, { at: store.name, person, farm, ...names });
  }

  get device(): string {
    return this.parts.device;
  }

  note(what: string, detail = ""): void {
    this.diagnostics.add(this.parts.env.now(), what, detail);
  }

  storageFailed(where: string, error: unknown): void {
    this.broken = true;
    this.note(`storage_${where}`, error instanceof StoreError ? error.code : String(error));
    this.parts.changed(false);
  }

  storageWorks(): void {
    if (this.opened) this.broken = false;
  }

  notOpened(error: unknown): void {
    if (error instanceof StoreError) this.storageFailed("open", error);
    else this.went_astray(error);
  }

  /** Of what another tab wrote: storage that does not answer does so the next time. */
  notReloaded(error: unknown): void {
    if (error instanceof StoreError) this.note("reload", error.code);
    else this.went_astray(error);
  }

  went_astray(error: unknown): void {
    this.astray = true;
    this.note("astray", String(error));
    // What storage has counts, and memory may lack some of it: gone before the next start, it would not be spoken of.
    if (this.opened) void this.waits.recount(this.parts.store, this.meta.born ?? "");
    this.parts.changed(false);
  }

  get known_ms(): number {
    return Math.max(this.parts.env.now(), this.meta.server_now ?? 0);
  }

  position(): { epoch: Meta["epoch"] | undefined; cursor: Cursor } {
    return { epoch: this.meta.epoch, cursor: this.meta.cursor ?? START };
  }

  readonly textOf = (id: string): string | undefined => this.memory.row(id)?.text;

  readonly isOwn = ({ ev }: Entry): boolean => ev.device === this.parts.device && ev.author === this.parts.person;

  keepDiagnostics(): void {
    this.parts.store.putMeta("ring", this.diagnostics.entries).catch(() => undefined);
  }
}
