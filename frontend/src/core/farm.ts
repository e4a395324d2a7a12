import { NO_BOOK, type Book } from "./book.ts";
import { Clock } from "./clock.ts";
import { FarmZone } from "./days.ts";
import { browserEnv, type Channel, type Env } from "./env.ts";
import { evaluated } from "./evaluate.ts";
import { makeEvent, type Data, type Envelope } from "./events.ts";
import { fold } from "./fold.ts";
import { newId } from "./ids.ts";
import type { Kind, Slot } from "./kinds.ts";
import { Memory } from "./memory.ts";
import { compareText } from "./order.ts";
import { BadEvent, problem_of } from "./payloads.ts";
import { Context } from "./outlook/context.ts";
import { manger_line, type MangerDay } from "./outlook/season.ts";
import type { Outlook, Results } from "./outlook/shapes.ts";
import { Ring } from "./ring.ts";
import type { View } from "./state/view.ts";
import { statusOf, type Status } from "./status.ts";
import { FarmStore, outboxRow, START } from "./store/farm_store.ts";
import { StoreError } from "./store/errors.ts";
import { Phone } from "./store/phone.ts";
import type { EventRow, Meta, OutboxRow, PersonRow } from "./store/rows.ts";
import type { Settled } from "./store/settle.ts";
import { Schedule } from "./sync/schedule.ts";
import { Sender, type Desk, type Ended, type LockedBy } from "./sync/sender.ts";
import { Session } from "./sync/session.ts";
import type { Changes, Entry, OutlookDoc } from "./sync/wire.ts";
import { APP, isOlder } from "./versions.ts";
import { outside } from "./window.ts";

const OWN_KEPT_MS = 90 * 86_400_000;

export interface FarmOptions {
  person: string;
  farmId: string;
  zone: string;
  device?: string;
  env?: Partial<Env>;
  session?: Session;
  /** For tests: other parts in place of the real ones. */
  parts?: { store?: (real: FarmStore) => FarmStore; clock?: (real: Clock) => Clock };
}

export interface When {
  on?: string;
  slot?: Slot;
  happened?: number;
}

export interface Recorded {
  id: string;
  /** Settles only when the phone's storage has it for good; rejects with a StoreError when it does not. */
  saved: Promise<void>;
}

export interface Pending {
  event: Envelope;
  code: string;
  why: string;
}

interface Unsaved {
  row: EventRow;
  outbox: OutboxRow;
  failed: boolean;
}

/** The farm in memory: changed at the tap, painted, then written. The one thing the screens talk to. */
export class Farm {
  readonly person: string;
  readonly farmId: string;
  readonly zone: FarmZone;
  readonly session: Session;
  readonly schedule: Schedule;
  readonly #env: Env;
  readonly #device: string;
  readonly #store: FarmStore;
  readonly #sender: Sender;
  readonly #channel: Channel | null;
  readonly #memory = new Memory();
  readonly #outlooks = new Map<string, OutlookDoc>();
  readonly #unsaved = new Map<string, Unsaved>();
  readonly #listeners = new Set<() => void>();
  #clock: Clock;
  #ring = new Ring();
  #meta: Partial<Meta> = {};
  #broken = false;
  #outdated = false;
  #locked: LockedBy | null = null;
  #sending: { n: number; of: number } | null = null;
  #view: { version: number; view: View } | null = null;
  #results: { key: string; ctx: Context; results: Results } | null = null;
  #outlooksVersion = 0;

  private constructor(options: FarmOptions, env: Env, device: string) {
    this.person = options.person;
    this.farmId = options.farmId;
    this.zone = new FarmZone(options.zone);
    this.session = options.session ?? new Session(env);
    this.#env = env;
    this.#device = device;
    const clock = new Clock(device);
    this.#clock = options.parts?.clock?.(clock) ?? clock;
    const store = new FarmStore(options.person, options.farmId, env, () => this.#onOutdated());
    this.#store = options.parts?.store?.(store) ?? store;
    this.#sender = new Sender({ env, store: this.#store, session: this.session, desk: this.#desk() });
    this.schedule = new Schedule(() => this.sync(), env);
    this.#channel = env.channel?.(`mangerline/${options.person}/${options.farmId}`) ?? null;
    if (this.#channel) this.#channel.onmessage = () => void this.#reload().catch(() => undefined);
  }

  static async open(options: FarmOptions): Promise<Farm> {
    const env = { ...browserEnv(), ...options.env };
    const device = options.device ?? (await deviceOf(env));
    const farm = new Farm(options, env, device);
    await farm.#reload().catch((error: unknown) => farm.#storageFailed("open", error));
    farm.#prune();
    return farm;
  }

  get view(): View {
    if (this.#view?.version !== this.#memory.version) {
      this.#view = { version: this.#memory.version, view: fold(this.#memory.counting()) };
    }
    return this.#view!.view;
  }

  /** Today is the farm's own date, unless another day is asked for. */
  results(day = this.today()): Results {
    return this.#evaluated(day).results;
  }

  /** The drawn line of one doe: eaten against needed, behind and ahead of a day. */
  season(doe: string, back_d = 60, ahead_d = 14, day = this.today()): MangerDay[] {
    return manger_line(this.#evaluated(day).ctx, doe, back_d, ahead_d);
  }

  #evaluated(day: string): { ctx: Context; results: Results } {
    const key = `${this.#memory.version}|${this.#outlooksVersion}|${day}`;
    if (this.#results?.key !== key) {
      const outlooks = Object.fromEntries([...this.#outlooks].filter(([doe]) => doe !== "")) as Record<string, Outlook>;
      const ctx = new Context(this.view, outlooks, this.book, day);
      this.#results = { key, ctx, results: evaluated(ctx) };
    }
    return this.#results;
  }

  get book(): Book {
    return (this.#outlooks.get("") as Book | undefined) ?? NO_BOOK;
  }

  outlook(doe: string): Outlook | null {
    return (this.#outlooks.get(doe) as Outlook | undefined) ?? null;
  }

  get people(): PersonRow[] {
    return this.#meta.people ?? [];
  }

  nameOf(person: string): string {
    return this.people.find(({ id }) => id === person)?.name ?? "";
  }

  get status(): Status {
    const failed = [...this.#unsaved.values()].filter((entry) => entry.failed).length;
    return statusOf({
      unsaved: failed, storage_broken: this.#broken, locked: this.#locked, sending: this.#sending,
      rejected: this.#memory.count("rejected"), waiting: this.#memory.count("waiting"), at: this.#meta.sent_at ?? 0,
    });
  }

  /** A newer app in another tab has taken over the database: this one must be opened again. */
  get outdated(): boolean {
    return this.#outdated;
  }

  get updateNeeded(): boolean {
    return isOlder(APP, this.#meta.min_app ?? "");
  }

  today(): string {
    return this.zone.dateAt(this.#env.now());
  }

  newId(): string {
    return newId(this.#env.now(), this.#env.random);
  }

  event(id: string): Envelope | undefined {
    return this.#memory.event(id);
  }

  events(): Envelope[] {
    return this.#memory.counting();
  }

  /** Throws BadEvent before anything is kept. Then: memory at once, listeners told, storage after. */
  record(kind: Kind, subject: string, data: Data, when: When = {}): Recorded {
    const now = this.#env.now();
    const happened = when.happened ?? now;
    const draft = { kind, subject, data, happened, on: when.on ?? this.zone.dateAt(happened), slot: when.slot ?? "" } as const;
    const pen = { author: this.person, device: this.#device, clock: this.#clock, now, random: this.#env.random };
    const event = makeEvent(draft, pen);
    const problem = problem_of(event);
    if (problem) throw new BadEvent(problem);
    const row: EventRow = {
      id: event.id, text: JSON.stringify(event), st: "waiting", seq: 0, eff: null, own: true, entered: event.entered,
    };
    const unsaved = { row, outbox: outboxRow(row), failed: false };
    this.#unsaved.set(row.id, unsaved);
    this.#memory.record(row, unsaved.outbox);
    this.#tell();
    const saved = this.#save(unsaved);
    saved.catch(() => undefined);
    return { id: row.id, saved };
  }

  /** Nothing is taken away: a later event says that the earlier one does not count. */
  undo(id: string): Recorded {
    const event = this.#memory.event(id);
    if (!event) throw new Error(`no such entry: ${id}`);
    return this.record("void", event.subject, { of: id });
  }

  /** Entries only this phone knows, in the order they were recorded. */
  pending(): Pending[] {
    return this.#listed("waiting");
  }

  /** Entries the farm's server refused, with its reason, kept until a person lets them go. */
  needsYou(): Pending[] {
    return this.#listed("rejected");
  }

  async discard(ids: string[]): Promise<void> {
    for (const id of ids.filter((id) => this.#memory.row(id)?.st === "rejected")) {
      await this.#store.dismiss(id);
      this.#memory.drop([id]);
    }
    this.#announce();
    this.#tell();
  }

  /** On a person's word at sign-out, after being told how many: lets go of everything the server does not have. */
  async throwAway(): Promise<void> {
    const ids = [...this.#memory.outbox("waiting"), ...this.#memory.outbox("rejected")].map(({ id }) => id);
    for (const id of ids) await this.#store.dismiss(id);
    this.#memory.drop(ids);
    this.#announce();
    this.#tell();
  }

  async sync(): Promise<Ended> {
    await this.#saveFailed();
    const ended = await this.#sender.run();
    this.#sending = null;
    if (ended.kind === "done") {
      this.#locked = null;
      this.#prune();
    }
    if (ended.kind === "locked") this.#locked = ended.why;
    if (ended.kind !== "done") this.#ring.add(this.#env.now(), `sync_${ended.kind}`, ended.why);
    void this.#store.putMeta("ring", this.#ring.entries).catch(() => undefined);
    this.#tell();
    return ended;
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** The last happenings on this phone, to share when something is odd. */
  diagnostics(): string {
    const { kind, n } = this.status;
    return [`app ${APP} device ${this.#device} status ${kind} ${n}`, this.#ring.text()].join("\n");
  }

  /** Everything not yet on the server, one entry a line, so that it can leave a phone whose storage refuses. */
  asText(): string {
    return [...this.#memory.outbox("waiting"), ...this.#memory.outbox("rejected")].map(({ text }) => text).join("\n");
  }

  close(): void {
    this.schedule.stop();
    this.#channel?.close();
    this.#store.close();
    this.#listeners.clear();
  }

  async #save(unsaved: Unsaved): Promise<void> {
    try {
      await this.#store.saveRecorded(unsaved.row, unsaved.outbox, this.#clock.last);
    } catch (error) {
      unsaved.failed = true;
      this.#ring.add(this.#env.now(), "not_saved", error instanceof StoreError ? error.code : String(error));
      this.#tell();
      throw error;
    }
    this.#unsaved.delete(unsaved.row.id);
    this.#broken = false;
    this.#announce();
    this.schedule.logged();
  }

  async #saveFailed(): Promise<void> {
    const failed = [...this.#unsaved.values()].filter((entry) => entry.failed);
    for (const entry of failed) await this.#save(entry).catch(() => undefined);
  }

  async #reload(): Promise<void> {
    const { events, outbox, outlooks, meta } = await this.#store.load();
    this.#meta = meta;
    this.#clock.catchUp(meta.clock);
    if (this.#ring.entries.length === 0) this.#ring = new Ring(meta.ring ?? []);
    this.#outlooks.clear();
    for (const doc of outlooks) this.#outlooks.set(doc.doe, doc);
    this.#outlooksVersion++;
    this.#memory.replace(events, outbox);
    for (const { row, outbox: waiting } of this.#unsaved.values()) {
      if (!this.#memory.row(row.id)) this.#memory.record(row, waiting);
    }
    this.#broken = false;
    this.#tell();
  }

  /**
   * Counted from the last day the server named, never from this phone's clock: a clock that jumps a year ahead must not
   * throw the farm away. Own entries stay in storage 90 days, to be offered again if the server ever loses them.
   */
  #prune(): void {
    const now = this.#meta.server_now;
    if (!now) return;
    const settled = this.#memory.settled();
    const gone = outside(settled, new Set(this.view.parked), this.zone.dateAt(now));
    if (gone.size === 0) return;
    const kept_from = now - OWN_KEPT_MS;
    const forgotten = [...gone].filter((id) => !this.#memory.row(id)!.own || this.#memory.row(id)!.entered < kept_from);
    this.#memory.drop([...gone]);
    if (forgotten.length) void this.#store.forget(forgotten).catch(() => undefined);
  }

  #listed(st: OutboxRow["st"]): Pending[] {
    return this.#memory.outbox(st).sort((a, b) => compareText(a.hlc, b.hlc)).flatMap(({ id, code, why }) => {
      const event = this.#memory.event(id);
      return event ? [{ event, code, why }] : [];
    });
  }

  #desk(): Desk {
    return {
      person: this.person,
      farmId: this.farmId,
      clock: this.#clock,
      unsent: () => this.#unsent(),
      position: () => ({ epoch: this.#meta.epoch, cursor: this.#meta.cursor ?? START }),
      isOwn: (entry) => this.#isOwn(entry),
      textOf: (id) => this.#memory.row(id)?.text,
      settled: (settled) => this.#settled(settled),
      applied: (changes, rows) => this.#applied(changes, rows),
      replaced: () => this.#reload(),
      sending: (n, of) => {
        this.#sending = { n, of };
        if (n) this.#tell();
      },
      note: (what, detail) => this.#ring.add(this.#env.now(), what, detail),
    };
  }

  /** What another tab wrote is in storage; what storage refused is only here. Both are sent. */
  async #unsent(): Promise<OutboxRow[]> {
    const stored = await this.#store.unsent().catch((error: unknown) => this.#storageFailed("outbox", error) ?? []);
    const here = new Set(stored.map(({ id }) => id));
    const only_here = [...this.#unsaved.values()].filter(({ failed, row }) => failed && !here.has(row.id));
    return [...stored, ...only_here.map(({ outbox }) => outbox)].sort((a, b) => compareText(a.hlc, b.hlc));
  }

  #isOwn({ ev }: Entry): boolean {
    return ev.device === this.#device && ev.author === this.person;
  }

  #settled(settled: Settled): void {
    for (const row of settled.events) this.#unsaved.delete(row.id);
    this.#memory.settle(settled);
  }

  #applied(changes: Changes, rows: EventRow[]): void {
    const cursor = this.#meta.cursor ?? START;
    this.#memory.put(rows.filter((row) => row.seq > cursor.seq));
    for (const doc of changes.outlooks) if (doc.rev > (this.#outlooks.get(doc.doe)?.rev ?? -1)) this.#outlooks.set(doc.doe, doc);
    if (changes.outlooks.length) this.#outlooksVersion++;
    const seq = Math.max(cursor.seq, changes.seq);
    const outlook_rev = Math.max(cursor.outlook_rev, changes.outlook_rev);
    const { people, min_app, now: server_now } = changes;
    this.#meta = { ...this.#meta, cursor: { seq, outlook_rev }, people, min_app, server_now, sent_at: this.#env.now() };
    this.#announce();
    this.#tell();
  }

  #storageFailed(where: string, error: unknown): undefined {
    this.#broken = true;
    this.#ring.add(this.#env.now(), `storage_${where}`, error instanceof StoreError ? error.code : String(error));
    this.#tell();
    return undefined;
  }

  #onOutdated(): void {
    this.#outdated = true;
    this.#tell();
  }

  #announce(): void {
    this.#channel?.postMessage("changed");
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}

async function deviceOf(env: Env): Promise<string> {
  const phone = new Phone(env);
  try {
    return await phone.device();
  } finally {
    phone.close();
  }
}

