import type { Clock } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import { Docs } from "./docs.ts";
import type { Env } from "../base/env.ts";
import { effective } from "../events/events.ts";
import type { Envelope } from "../events/events.ts";
import type { Recorded } from "./farm_shapes.ts";
import { Incoming, Memory } from "./memory.ts";
import { compareText } from "../events/order.ts";
import { Diagnostics } from "./diagnostics.ts";
import { START, type FarmStore } from "./store/farm_store.ts";
import { StoreError } from "./store/errors.ts";
import type { Cursor, EventRow, Meta, OutboxRow, OutlookRow } from "./store/rows.ts";
import { outboxRow, type Settled } from "./store/settle.ts";
import type { Changes, Entry } from "./sync/wire.ts";
import { outside, reaches_back } from "./recent.ts";

const OWN_KEPT_MS = 90 * 86_400_000;

interface Unsaved {
  row: EventRow;
  outbox: OutboxRow;
  failed: boolean;
}

export interface KeepingParts {
  person: string;
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

/** What this phone has of the farm, in memory and in storage: memory is always changed first, or at the same moment. */
export class Keeping {
  readonly memory = new Memory();
  readonly outlooks = new Docs();
  meta: Partial<Meta> = {};
  diagnostics = new Diagnostics();
  /** Storage could not even be read: whatever is recorded lives in memory alone. */
  broken = false;
  /** What came from the server could not be taken in: memory may lack some of it until the farm is fetched whole. */
  astray = false;
  readonly #parts: KeepingParts;
  readonly #unsaved = new Map<string, Unsaved>();
  #asked = false;
  /** What others recorded on this phone and have not sent: it counts here, and goes out under their own names. */
  #of_sharers: EventRow[] = [];
  /** Recorded while the first reading is under way: it may have been written too late to be read. */
  #meanwhile: Unsaved[] = [];
  #opened = false;

  constructor(parts: KeepingParts) {
    this.#parts = parts;
  }

  /** An entry is not in storage yet. */
  get writing(): boolean {
    return this.#unsaved.size > 0;
  }

  get not_saved(): number {
    return this.#failed().length;
  }

  note(what: string, detail = ""): void {
    this.diagnostics.add(this.#parts.env.now(), what, detail);
  }

  storageFailed(where: string, error: unknown): void {
    this.broken = true;
    this.note(`storage_${where}`, error instanceof StoreError ? error.code : String(error));
    this.#parts.changed(false);
  }

  notOpened(error: unknown): void {
    if (error instanceof StoreError) this.storageFailed("open", error);
    else this.went_astray(error);
  }

  went_astray(error: unknown): void {
    this.astray = true;
    this.note("astray", String(error));
    this.#parts.changed(false);
  }

  /** The clock and the facts that can be had before anything else is read, and the text of the last picture. */
  async firstLook(): Promise<string> {
    const { meta, text } = await this.#parts.store.pictured();
    this.#takeMeta(meta);
    return text;
  }

  /** Everything for the first time, so that taps in between are taken and seen. */
  async open(): Promise<void> {
    const incoming = new Incoming();
    const { outbox, outlooks, meta } = await this.#parts.store.load((rows) => incoming.take(rows));
    const folded = await this.#parts.fold(incoming.counting());
    this.#show(incoming, outbox, outlooks, meta, folded);
  }

  /** Memory from storage; what storage does not have yet, or refused, stays. */
  async reload(): Promise<void> {
    const incoming = new Incoming();
    const { outbox, outlooks, meta } = await this.#parts.store.load((rows) => incoming.take(rows));
    this.#show(incoming, outbox, outlooks, meta);
  }

  #show(
    incoming: Incoming, outbox: OutboxRow[], outlooks: OutlookRow[], meta: Partial<Meta>, folded?: () => void,
  ): void {
    this.#takeMeta(meta);
    this.outlooks.replace(outlooks);
    this.memory.replace(incoming, outbox);
    folded?.();
    for (const { row, outbox: waiting } of [...this.#meanwhile, ...this.#unsaved.values()]) {
      if (!this.memory.row(row.id)) this.memory.record(row, waiting);
    }
    this.#meanwhile = [];
    this.#opened = true;
    this.#showOfSharers();
    [this.broken, this.astray] = [false, false];
    this.#parts.changed(false);
  }

  #takeMeta(meta: Partial<Meta>): void {
    this.meta = meta;
    this.#parts.clock.catchUp(meta.clock);
    if (this.diagnostics.entries.length === 0) this.diagnostics = new Diagnostics(meta.ring ?? []);
  }

  get of_sharers(): EventRow[] {
    return this.#of_sharers.filter(({ id }) => isOfSharer(this.memory.row(id)));
  }

  /** What was shown before and waits with nobody any more was refused or taken back, unless the farm has it by now. */
  takeOfSharers(rows: EventRow[]): void {
    const still = new Set(rows.map(({ id }) => id));
    const gone = this.of_sharers.filter(({ id }) => !still.has(id));
    if (gone.length === 0 && rows.every(({ id }) => this.memory.row(id))) return;
    this.memory.drop(gone.map(({ id }) => id));
    this.#of_sharers = [...new Map(rows.map((row) => [row.id, row])).values()];
    this.#showOfSharers();
    this.#parts.changed(false);
  }

  #showOfSharers(): void {
    this.memory.put(this.#of_sharers.filter(({ id }) => !this.memory.row(id)));
  }

  /** A tap: counts in memory at once, whoever looks is told, and storage follows when it has been painted. */
  record(event: Envelope): Recorded {
    const text = JSON.stringify(event);
    const row: EventRow = { id: event.id, text, st: "waiting", seq: 0, eff: null, own: true, aged_from: event.entered };
    const unsaved = { row, outbox: outboxRow(row), failed: false };
    this.#unsaved.set(row.id, unsaved);
    if (!this.#opened) this.#meanwhile.push(unsaved);
    this.memory.record(row, unsaved.outbox);
    this.#parts.changed(false);
    return { id: row.id, saved: this.#save(unsaved) };
  }

  async saveFailed(): Promise<void> {
    for (const entry of this.#failed()) await this.#save(entry).catch(() => undefined);
  }

  /** What another tab wrote is in storage; what storage refused is only here. Both are sent. */
  async unsent(): Promise<OutboxRow[]> {
    const stored = await this.#parts.store.unsent().catch((error: unknown) => {
      this.storageFailed("outbox", error);
      return [];
    });
    const here = new Set(stored.map(({ id }) => id));
    const only_here = this.#failed().filter(({ row }) => !here.has(row.id));
    return [...stored, ...only_here.map(({ outbox }) => outbox)].sort((a, b) => compareText(a.hlc, b.hlc));
  }

  position(): { epoch: Meta["epoch"] | undefined; cursor: Cursor } {
    return { epoch: this.meta.epoch, cursor: this.meta.cursor ?? START };
  }

  readonly textOf = (id: string): string | undefined => this.memory.row(id)?.text;

  readonly isOwn = ({ ev }: Entry): boolean => ev.device === this.#parts.device && ev.author === this.#parts.person;

  settled(settled: Settled): void {
    for (const row of settled.events) this.#unsaved.delete(row.id);
    this.memory.settle(settled);
  }

  applied(changes: Changes, rows: EventRow[]): void {
    const cursor = this.meta.cursor ?? START;
    this.memory.put(rows.filter((row) => row.seq > cursor.seq));
    for (const doc of changes.outlooks) this.outlooks.take(doc);
    const seq = Math.max(cursor.seq, changes.seq);
    const outlook_rev = Math.max(cursor.outlook_rev, changes.outlook_rev);
    const { people, scope = "", min_app, now: server_now } = changes;
    const sent_at = this.#parts.env.now();
    this.meta = { ...this.meta, cursor: { seq, outlook_rev }, people, scope, min_app, server_now, sent_at };
    this.#parts.changed(true);
  }

  /** On a phone that has nothing of the farm yet it is seen as it came, before it is stored; false on any other. */
  async arrived(changes: Changes, rows: EventRow[]): Promise<boolean> {
    const { outlooks, people, scope = "", min_app, now, seq, outlook_rev } = changes;
    if (!this.memory.empty) return false;
    const incoming = new Incoming();
    incoming.take(rows);
    const folded = await this.#parts.fold(incoming.counting());
    if (!this.memory.empty) return false;
    this.memory.replace(incoming, []);
    folded();
    for (const doc of outlooks) this.outlooks.take(doc);
    const facts = { people, scope, min_app, server_now: now };
    this.meta = { ...this.meta, ...facts, cursor: { seq, outlook_rev } };
    this.#parts.changed(false);
    return true;
  }

  /** It is stored as well: from here on the next changes are asked for, and the phone may be taken out of reach. */
  stored({ epoch }: Changes): void {
    this.meta = { ...this.meta, epoch, sent_at: this.#parts.env.now() };
    this.#parts.changed(true);
  }

  /** What only waits is not counted: its time may still come. */
  reaches_back({ events, now }: Changes): boolean {
    const cursor = this.meta.cursor ?? START;
    const came = events
      .filter(({ seq, st }) => seq > cursor.seq && st === "ok")
      .map(({ ev, eff }) => effective(ev, eff ?? null));
    return reaches_back(came, (id) => this.memory.event(id), now);
  }

  async letGo(ids: string[]): Promise<void> {
    for (const id of ids) await this.#parts.store.dismiss(id);
    this.memory.drop(ids);
    this.#parts.changed(true);
  }

  /**
   * Counted from the last day the server named, never from this phone's clock: a clock that jumps a year ahead must not
   * throw the farm away. Own entries stay in storage 90 days after it last spoke of them, to be offered again if it
   * ever loses them.
   */
  prune(parked: Set<string>): void {
    const now = this.meta.server_now;
    if (!now) return;
    const gone = [...outside(this.memory.settled(), parked, this.#parts.zone.dateAt(now), this.memory.bare_links())];
    if (gone.length === 0) return;
    const rows = gone.map((id) => this.memory.row(id)!);
    const forgotten = rows.filter(({ own, aged_from }) => !own || aged_from < now - OWN_KEPT_MS).map(({ id }) => id);
    this.memory.drop(gone);
    if (forgotten.length) this.#parts.store.forget(forgotten).catch(() => undefined);
  }

  keepDiagnostics(): void {
    this.#parts.store.putMeta("ring", this.diagnostics.entries).catch(() => undefined);
  }

  async #save(unsaved: Unsaved): Promise<void> {
    // What a tap shows is painted first: it takes a slow phone as long to begin writing as to draw a row.
    await this.#parts.env.drawn();
    try {
      await this.#parts.store.saveRecorded(unsaved.row, unsaved.outbox, this.#parts.clock.last);
    } catch (error) {
      unsaved.failed = true;
      this.note("not_saved", error instanceof StoreError ? error.code : String(error));
      this.#parts.changed(false);
      throw error;
    }
    this.#unsaved.delete(unsaved.row.id);
    this.broken = false;
    this.#parts.changed(true);
    this.#askToKeep();
  }

  /** Once a run, when there is something to lose: browsers are readier to say yes to somebody who uses the app. */
  #askToKeep(): void {
    const { persist } = this.#parts.env;
    if (this.#asked || !persist) return;
    this.#asked = true;
    persist().then((kept) => this.note("persist", kept ? "granted" : "refused"), () => undefined);
  }

  #failed(): Unsaved[] {
    return [...this.#unsaved.values()].filter(({ failed }) => failed);
  }
}

function isOfSharer(row: EventRow | undefined): boolean {
  return row !== undefined && row.st === "waiting" && !row.own;
}
