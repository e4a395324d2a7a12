import { readingOf } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import type { Effective, Envelope } from "../events/events.ts";
import type { Recorded } from "./farm_shapes.ts";
import { Incoming, type Memory } from "./memory.ts";
import { Kept, type KeepingParts } from "./kept.ts";
import { compareText } from "../events/order.ts";
import { Diagnostics } from "./diagnostics.ts";
import { START } from "./store/farm_store.ts";
import { StoreError } from "./store/errors.ts";
import type { EventRow, Meta, OutboxRow, OutlookRow } from "./store/rows.ts";
import { cursorOf, further, outboxRow, type Settled } from "./store/settle.ts";
import type { Changes } from "./sync/wire.ts";
import type { LetGo } from "./letting_go.ts";
import { OthersHere } from "./others_here.ts";
import { is_odd } from "./odd_clock.ts";
import { InHand } from "./in_hand.ts";
import { Saving, type Unsaved } from "./saving.ts";
import { refill } from "./store/refill.ts";

/** As long as word from another tab may take. */
const SAID_MS = 250;

/** What this phone has of the farm, in memory and in storage: memory is always changed first, or at the same moment. */
export class Keeping extends Kept {
  readonly #saving: Saving;
  readonly #others = new OthersHere(this.memory);
  /** Recorded while the first reading is under way: it may have been written too late to be read. */
  #meanwhile: Unsaved[] = [];
  readonly hand: InHand;

  constructor(parts: KeepingParts) {
    super(parts);
    const { env, store } = parts;
    this.#saving = new Saving({
      ...parts, note: (what, detail) => this.note(what, detail), saved: () => this.#saved(),
      failed: () => parts.changed(false),
    });
    this.hand = new InHand(env, store.name, () => (this.gone ? [] : [...this.#saving.under_way.values()]));
  }

  /** An entry is not in storage yet. */
  get writing(): boolean {
    return this.#saving.under_way.size > 0;
  }

  get not_saved(): number {
    return this.#saving.failed().length;
  }

  /** The clock and the facts that can be had before anything else is read, and the text of the last picture. */
  async firstLook(): Promise<string> {
    const { meta, text } = await this.parts.store.pictured();
    this.#takeMeta(meta);
    return text;
  }

  /** Everything for the first time, so that taps in between are taken and seen. */
  async open(): Promise<void> {
    const incoming = new Incoming();
    const { outbox, outlooks, meta } = await this.parts.store.load((rows) => incoming.take(rows));
    const folded = await this.parts.fold(incoming.counting());
    this.#show(incoming, outbox, outlooks, meta, folded);
  }

  /** Memory from storage; what storage does not have yet, or refused, stays. */
  async reload(): Promise<void> {
    const incoming = new Incoming();
    const { outbox, outlooks, meta } = await this.parts.store.load((rows) => incoming.take(rows));
    if (this.opened && (meta.born ?? "") !== (this.meta.born ?? "")) return this.#refill(meta.born ?? "");
    this.#show(incoming, outbox, outlooks, meta);
  }

  /** Storage was emptied under the open app: what it had is still here, and nothing of it counts as sent for that. */
  async #refill(born: string): Promise<void> {
    this.note("storage_replaced", String(this.memory.count("waiting")));
    const waiting = this.memory.rows.outbox.filter(({ st }) => st === "waiting");
    for (const outbox of waiting) {
      const row = this.memory.row(outbox.id);
      if (row) this.#saving.under_way.set(row.id, { row, outbox, failed: true });
    }
    const meta = { ...this.meta, born, was: this.meta.born ?? "", clock: this.parts.clock.last };
    await refill(this.parts.store, { ...this.memory.rows, outlooks: this.outlooks.rows, meta });
    for (const { id } of waiting) this.#saving.under_way.delete(id);
    this.meta = meta;
    await this.reload();
  }

  /** The browser took the database away, or somebody did; or it was wiped in another tab, which then says so. */
  readonly emptied = (): void => {
    const refilled = () => this.reload().catch((error: unknown) => this.storageFailed("refill", error));
    this.parts.env.setTimer(() => void (this.opened && refilled()), SAID_MS);
  };

  /** Wiped from this phone: nothing of it is written again. */
  forget(): void {
    [this.gone, this.opened] = [true, false];
    this.memory.replace(new Incoming(), []);
    this.outlooks.replace([]);
    this.parts.changed(false);
  }

  #show(
    incoming: Incoming, outbox: OutboxRow[], outlooks: OutlookRow[], meta: Partial<Meta>, folded?: () => void,
  ): void {
    this.#takeMeta(meta);
    // What somebody brought in a file is seen as well.
    for (const { hlc } of outbox) this.parts.clock.merge(hlc);
    this.outlooks.replace(outlooks);
    this.memory.replace(incoming, outbox);
    folded?.();
    if (!this.opened) this.#takeUp();
    for (const { row, outbox: waiting } of [...this.#meanwhile, ...this.#saving.under_way.values()]) {
      if (!this.memory.row(row.id)) this.memory.record(row, waiting);
    }
    this.#meanwhile = [];
    if (!this.opened) this.waits.opened(this.#only_here, this.meta);
    this.opened = true;
    this.#others.show();
    [this.broken, this.astray] = [false, false];
    this.#count();
    this.lookAtClocks();
    this.parts.changed(false);
  }

  /** What was recorded as the page went; storage may have got it after all. */
  #takeUp(): void {
    for (const held of this.hand.take_up()) {
      if (this.memory.row(held.row.id)) continue;
      this.parts.clock.catchUp(readingOf(held.outbox.hlc) ?? undefined);
      this.#saving.under_way.set(held.row.id, held);
      void this.#saving.save(held).catch(() => undefined);
    }
  }

  /** Until all of it has been read nobody can say how many wait. */
  #count(): void {
    if (this.opened) this.waits.count(this.#only_here, this.meta.born ?? "");
  }

  /** What would be gone with this phone's storage. */
  get #only_here(): Envelope[] {
    return [...this.memory.listed("waiting"), ...this.memory.listed("rejected")].map(({ event }) => event);
  }

  #takeMeta(meta: Partial<Meta>): void {
    this.meta = meta;
    this.parts.clock.catchUp(meta.clock);
    if (this.diagnostics.entries.length === 0) this.diagnostics = new Diagnostics(meta.ring ?? []);
  }

  get of_sharers(): EventRow[] {
    return this.#others.waiting;
  }

  takeOfSharers(rows: EventRow[]): void {
    for (const { text } of rows) this.parts.clock.merge((JSON.parse(text) as Envelope).hlc);
    if (this.#others.take(rows)) this.parts.changed(false);
  }

  /** A tap: counts in memory at once, whoever looks is told, and storage follows when it has been painted. */
  record(event: Envelope): Recorded {
    const text = JSON.stringify(event);
    const eff: Effective | null = is_odd(event, this.known_ms, this.parts.zone) ? { odd: 1 } : null;
    const row: EventRow = { id: event.id, text, st: "waiting", seq: 0, eff, own: true, aged_from: event.entered };
    const unsaved = { row, outbox: outboxRow(row), failed: false };
    this.#saving.under_way.set(row.id, unsaved);
    if (!this.opened) this.#meanwhile.push(unsaved);
    this.memory.record(row, unsaved.outbox);
    this.parts.changed(false);
    return { id: row.id, saved: this.#saving.save(unsaved) };
  }

  #saved(): void {
    this.broken = false;
    this.#count();
    this.parts.changed(true);
  }

  /** This phone's clock may have been put right since they were entered: what it then said is asked about. */
  lookAtClocks(): void {
    const changed = this.memory.outbox("waiting").flatMap(({ id, proof }) => {
      const row = proof ? undefined : this.memory.row(id);
      const odd = row && is_odd(JSON.parse(row.text) as Envelope, this.known_ms, this.parts.zone);
      return row && odd !== Boolean(row.eff?.odd) ? [{ ...row, eff: odd ? { odd: 1 as const } : null }] : [];
    });
    if (changed.length === 0) return;
    this.memory.put(changed);
    this.parts.changed(false);
  }

  /** What storage refused, once more. */
  async saveFailed(): Promise<void> {
    for (const entry of this.#saving.failed()) await this.#saving.save(entry).catch(() => undefined);
  }

  /** What another tab wrote is in storage; what storage refused is here alone, or all where it cannot be read. */
  async unsent(): Promise<OutboxRow[]> {
    const stored = await this.#stored().catch((error: unknown) => {
      this.storageFailed("outbox", error);
      return this.memory.outbox("waiting");
    });
    const there = stored.filter(({ id }) => !this.memory.settledAs(id));
    const here = new Set(there.map(({ id }) => id));
    const only_here = this.#saving.failed().filter(({ row }) => !here.has(row.id));
    return [...there, ...only_here.map(({ outbox }) => outbox)].sort((a, b) => compareText(a.hlc, b.hlc));
  }

  async #stored(): Promise<OutboxRow[]> {
    const { store } = this.parts;
    try {
      return await store.unsent(this.opened ? (this.meta.born ?? "") : undefined);
    } catch (error) {
      if (!(error instanceof StoreError) || error.code !== "replaced") throw error;
      await this.reload();
      return store.unsent();
    }
  }

  settled(settled: Settled): void {
    for (const row of settled.events) this.#saving.under_way.delete(row.id);
    const handed = this.memory.outbox("waiting").filter(({ id, carried }) => carried && settled.gone.includes(id));
    this.waits.handed(handed.flatMap(({ id }) => this.memory.event(id) ?? []));
    this.memory.settle(settled);
    this.#count();
  }

  applied(changes: Changes, rows: EventRow[]): void {
    const cursor = this.meta.cursor ?? START;
    this.memory.put(rows.filter((row) => row.seq > cursor.seq));
    for (const doc of changes.outlooks) this.outlooks.take(doc);
    const sent_at = this.parts.env.now();
    this.meta = { ...this.meta, ...said_with(changes), cursor: further(cursor, changes), sent_at };
    this.parts.changed(true);
  }

  /** On a phone that has nothing of the farm yet it is seen as it came, before it is stored; false on any other. */
  async arrived(changes: Changes, rows: EventRow[]): Promise<boolean> {
    if (!this.memory.empty) return false;
    const incoming = new Incoming();
    incoming.take(rows);
    const folded = await this.parts.fold(incoming.counting());
    if (!this.memory.empty) return false;
    this.memory.replace(incoming, []);
    folded();
    for (const doc of changes.outlooks) this.outlooks.take(doc);
    this.meta = { ...this.meta, ...said_with(changes), cursor: cursorOf(changes) };
    this.parts.changed(false);
    return true;
  }

  /** It is stored as well: from here on the next changes are asked for, and the phone may be taken out of reach. */
  stored({ epoch }: Changes): void {
    this.meta = { ...this.meta, epoch, sent_at: this.parts.env.now() };
    this.parts.changed(true);
  }

  /** The farm from the short list, in memory alone. False where its history is another one than before. */
  standsIn(changes: Changes, beside: (own: EventRow[], outbox: OutboxRow[]) => [Incoming, OutboxRow[]]): boolean {
    const { epoch, outlooks } = changes;
    if (this.meta.epoch !== undefined && this.meta.epoch !== epoch) return false;
    const { events, outbox } = this.memory.rows;
    this.memory.replace(...beside(events, outbox));
    for (const doc of outlooks) this.outlooks.take(doc);
    const sent_at = this.parts.env.now();
    this.meta = { ...this.meta, ...said_with(changes), epoch, cursor: cursorOf(changes), sent_at };
    this.#others.show();
    this.parts.changed(false);
    return true;
  }

  async letGo(ids: string[]): Promise<void> {
    for (const id of ids) await this.parts.store.dismiss(id);
    this.memory.drop(ids);
    this.#count();
    this.parts.changed(true);
  }

  prune(to_let_go: (memory: Memory, zone: FarmZone, server_now?: number) => LetGo): void {
    const { gone, forgotten } = to_let_go(this.memory, this.parts.zone, this.meta.server_now);
    if (gone.length) this.memory.drop(gone);
    if (forgotten.length) this.parts.store.forget(forgotten).catch(() => undefined);
  }

  /** On the farm no more. Says whether something stays because nobody could be given it. */
  wiped(): boolean {
    const n = this.memory.count("waiting");
    this.waits.removed(this.memory.listed("waiting").map(({ event }) => event));
    this.forget();
    return n > 0;
  }
}

/** What every answer says of the farm as a whole. */
function said_with({ people, scope = "", min_app, now }: Changes): Partial<Meta> {
  return { people, scope, min_app, server_now: now };
}
