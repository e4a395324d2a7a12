import type { Book } from "./book.ts";
import { Clock } from "./clock.ts";
import { FarmZone } from "./days.ts";
import { browserEnv, type Channel, type Env } from "./env.ts";
import { makeEvent, type Data, type Envelope } from "./events.ts";
import { newId } from "./ids.ts";
import { Keeping } from "./keeping.ts";
import { catchUp, waitingOf } from "./mates.ts";
import type { Kind, Slot } from "./kinds.ts";
import { compareText } from "./order.ts";
import type { Context } from "./outlook/context.ts";
import type { Evaluation } from "./outlook/evaluation.ts";
import type { MangerDay } from "./outlook/season.ts";
import type { DoeResult, Outlook, Prompt, Results } from "./outlook/shapes.ts";
import { BadEvent, problem_of } from "./payloads.ts";
import { given, read, small, type Picture } from "./picture.ts";
import { Reading } from "./reading.ts";
import type { View } from "./state/view.ts";
import { statusOf, type Status } from "./status.ts";
import { FarmStore, outboxRow, START } from "./store/farm_store.ts";
import { deviceOf } from "./store/phone.ts";
import type { EventRow, OutboxRow, PersonRow } from "./store/rows.ts";
import { Schedule } from "./sync/schedule.ts";
import { Sender, type Desk, type Ended, type LockedBy } from "./sync/sender.ts";
import { Session } from "./sync/session.ts";
import { APP, BUILD, isOlder } from "./versions.ts";

export interface FarmOptions {
  person: string;
  farmId: string;
  zone: string;
  device?: string;
  env?: Partial<Env>;
  session?: Session;
  /** Who else uses this phone, and whether one of them had it last: then the farm starts from what she has seen. */
  mates?: string[];
  after?: string;
  /** Ready as soon as the picture of the last time can be shown; the caller then asks for the rest by `complete`. */
  early?: boolean;
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

/** The farm on this phone: changed at the tap, painted, then written. The one thing the screens talk to. */
export class Farm {
  readonly person: string;
  readonly farmId: string;
  readonly zone: FarmZone;
  readonly session: Session;
  readonly schedule: Schedule;
  readonly #env: Env;
  readonly #device: string;
  readonly #clock: Clock;
  readonly #store: FarmStore;
  readonly #keeping: Keeping;
  readonly #reading: Reading;
  readonly #sender: Sender;
  readonly #channel: Channel | null;
  readonly #options: FarmOptions;
  /** Others on this phone whom the server wants to sign in again: not asked for twice. */
  readonly #locked_mates = new Set<string>();
  readonly #listeners = new Set<() => void>();
  #left: EventRow[] = [];
  #outdated = false;
  #picture: Picture | null = null;
  #complete: Promise<void> | null = null;
  #kept = "";
  #unheard = false;
  #syncing: Promise<Ended> | null = null;
  #locked: LockedBy | null = null;
  #sending: { n: number; of: number } | null = null;

  private constructor(options: FarmOptions, env: Env, device: string) {
    const { person, farmId } = options;
    this.#options = options;
    [this.person, this.farmId, this.#env, this.#device] = [person, farmId, env, device];
    this.zone = new FarmZone(options.zone);
    this.session = options.session ?? new Session(env);
    const [clock, store] = [new Clock(device), new FarmStore(person, farmId, env, () => this.#onOutdated())];
    this.#clock = options.parts?.clock?.(clock) ?? clock;
    this.#store = options.parts?.store?.(store) ?? store;
    const changed = (stored: boolean) => this.#changed(stored);
    const fold = (events: Envelope[]) => this.#reading.fold(events, env.rest);
    this.#keeping = new Keeping({ person, device, zone: this.zone, env, clock: this.#clock, store: this.#store, fold, changed });
    this.#reading = new Reading(this.#keeping);
    this.#sender = new Sender({ env, store: this.#store, session: this.session, desk: this.#desk() });
    this.schedule = new Schedule(() => this.sync(), env);
    this.#channel = env.channel?.(`mangerline/${person}/${farmId}`) ?? null;
    if (this.#channel) this.#channel.onmessage = () => void this.complete().then(() => this.#keeping.reload()).catch(() => undefined);
  }

  static async open(options: FarmOptions): Promise<Farm> {
    const env = { ...browserEnv(), ...options.env };
    const device = options.device ?? (await deviceOf(env));
    const { person, farmId, after } = options;
    const place = { farmId, env, device };
    // Her outbox first: what is sent between the two readings is found in one of them.
    const left = after ? await waitingOf(after, place).catch(() => []) : [];
    if (after) await catchUp(person, after, place).catch(() => false);
    const farm = new Farm(options, env, device);
    farm.#left = left;
    // Whoever takes the phone over wants what it knows now, not what she saw when she last had it.
    if (!options.early || after || !(await farm.#firstLook())) await farm.complete();
    return farm;
  }

  /** What was on the screen when the farm was last at rest, until everything has been read. */
  get picture(): Picture | null {
    return this.#picture;
  }

  async #firstLook(): Promise<boolean> {
    const text = await this.#keeping.firstLook().catch(() => "");
    this.#picture = read(text);
    if (this.#picture) this.#reading.show(this.#picture);
    if (this.#picture) this.zone.trust(this.#picture.span);
    return this.#picture !== null;
  }

  /** Everything this phone has of the farm. What was recorded until then is in it. */
  complete(): Promise<void> {
    return (this.#complete ??= this.#open());
  }

  async #open(): Promise<void> {
    const keeping = this.#keeping;
    await keeping.open().catch((error: unknown) => keeping.storageFailed("open", error));
    this.#picture = null;
    await this.#seeMates();
    this.#prune();
    this.#changed(false);
  }

  /** Keeps what the list shows for the next opening. Nothing is kept while an entry waits to be written. */
  async keepPicture(day: string, does: Record<string, DoeResult>, pens: Record<string, Prompt | null>): Promise<void> {
    const { memory, meta, of_mates } = this.#keeping;
    if (this.#picture || this.#keeping.writing) return;
    const view = small(this.view, day);
    const picture: Picture = {
      build: BUILD, day, span: this.zone.spanFrom(this.#env.now()), view, latest: this.#reading.latest, book: given(this.book, view), does, pens,
      waiting: memory.count("waiting") + of_mates.length, rejected: memory.count("rejected"),
    };
    const text = JSON.stringify(picture);
    if (text === this.#kept) return;
    this.#kept = text;
    await this.#store.keepPicture(text, { ...meta, clock: this.#clock.last }).catch(() => false);
  }

  get view(): View {
    return this.#reading.view;
  }

  /** Today is the farm's own date, unless another day is asked for. */
  results(day = this.today()): Results {
    return this.#reading.on(day).results();
  }

  /** The same, doe by doe and pen by pen, as they are asked for. */
  evaluation(day = this.today()): Evaluation {
    return this.#reading.on(day);
  }

  /** The drawn line of one doe: eaten against needed, behind and ahead of a day. */
  season(doe: string, back_d = 60, ahead_d = 14, day = this.today()): MangerDay[] {
    return this.#reading.season(doe, back_d, ahead_d, day);
  }

  /** Everything known on a day, for questions the results do not answer. */
  context(day = this.today()): Context {
    return this.#reading.on(day).ctx;
  }

  get book(): Book {
    return this.#reading.book;
  }

  outlook(doe: string): Outlook | null {
    return this.#reading.outlook(doe);
  }

  get people(): PersonRow[] {
    return this.#keeping.meta.people ?? [];
  }

  nameOf(person: string): string {
    return this.people.find(({ id }) => id === person)?.name ?? "";
  }

  get status(): Status {
    const { memory, not_saved, broken, meta } = this.#keeping;
    return statusOf({
      unsaved: not_saved, storage_broken: broken, locked: this.#locked, sending: this.#sending,
      rejected: memory.count("rejected") + (this.#picture?.rejected ?? 0),
      waiting: memory.count("waiting") + this.#keeping.of_mates.length + (this.#picture?.waiting ?? 0), at: meta.sent_at ?? 0,
    });
  }

  /** A newer app in another tab has taken over the database: this one must be opened again. */
  get outdated(): boolean {
    return this.#outdated;
  }

  /** The last try to reach the server came to nothing: what waits here is known to nobody else. */
  get unheard(): boolean {
    return this.#unheard;
  }

  get updateNeeded(): boolean {
    return isOlder(APP, this.#keeping.meta.min_app ?? "");
  }

  today(): string {
    return this.zone.dateAt(this.#env.now());
  }

  newId(): string {
    return newId(this.#env.now(), this.#env.random);
  }

  event(id: string): Envelope | undefined {
    return this.#keeping.memory.event(id);
  }

  events(): Envelope[] {
    return this.#keeping.memory.counting();
  }

  /** Throws BadEvent before anything is kept. Then: memory at once, listeners told, storage after. */
  record(kind: Kind, subject: string, data: Data, when: When = {}): Recorded {
    const event = this.#made(kind, subject, data, when);
    const problem = problem_of(event);
    if (problem) throw new BadEvent(problem);
    const row: EventRow = {
      id: event.id, text: JSON.stringify(event), st: "waiting", seq: 0, eff: null, own: true, entered: event.entered,
    };
    const saved = this.#keeping.record(row, outboxRow(row));
    saved.then(() => this.schedule.logged(), () => undefined);
    return { id: row.id, saved };
  }

  #made(kind: Kind, subject: string, data: Data, when: When): Envelope {
    const now = this.#env.now();
    const happened = when.happened ?? now;
    const on = when.on ?? this.zone.dateAt(happened);
    const pen = { author: this.person, device: this.#device, clock: this.#clock, now, random: this.#env.random };
    return makeEvent({ kind, subject, data, happened, on, slot: when.slot ?? "" }, pen);
  }

  /** Nothing is taken away: a later event says that the earlier one does not count. */
  undo(id: string): Recorded {
    const event = this.event(id);
    if (!event) throw new Error(`no such entry: ${id}`);
    return this.record("void", event.subject, { of: id });
  }

  /** Entries only this phone knows, in the order they were recorded. */
  pending(): Pending[] {
    return this.#listed("waiting");
  }

  /** Entries of others that only this phone knows. */
  ofMates(): Envelope[] {
    return this.#keeping.of_mates.map(({ id }) => this.event(id)!);
  }

  /** Entries the farm's server refused, with its reason, kept until a person lets them go. */
  needsYou(): Pending[] {
    return this.#listed("rejected");
  }

  discard(ids: string[]): Promise<void> {
    return this.#keeping.letGo(ids.filter((id) => this.#keeping.memory.row(id)?.st === "rejected"));
  }

  /** On a person's word at sign-out, after being told how many: lets go of everything the server does not have. */
  throwAway(): Promise<void> {
    return this.#keeping.letGo(this.#unknownToServer().map(({ id }) => id));
  }

  sync(): Promise<Ended> {
    this.#syncing ??= this.#sync().finally(() => (this.#syncing = null));
    return this.#syncing;
  }

  async #sync(): Promise<Ended> {
    await this.#keeping.saveFailed();
    const ended = await this.#sender.run();
    this.#sending = null;
    if (ended.kind !== "later" || ended.why !== "other_tab") this.#unheard = ended.kind !== "done";
    if (ended.kind === "done") await this.#sendForMates();
    if (ended.kind === "done") this.#prune();
    else this.#keeping.note(`sync_${ended.kind}`, ended.why);
    if (ended.kind !== "later") this.#locked = ended.kind === "locked" ? ended.why : null;
    this.#keeping.keepRing();
    this.#changed(false);
    return ended;
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** The last happenings on this phone, to share when something is odd. */
  diagnostics(): string {
    const { kind, n } = this.status;
    return [`app ${APP} device ${this.#device} status ${kind} ${n}`, this.#keeping.ring.text()].join("\n");
  }

  /** Everything not yet on the server, one entry a line, so that it can leave a phone whose storage refuses. */
  asText(): string {
    return this.#unknownToServer().map(({ text }) => text).join("\n");
  }

  close(): void {
    this.schedule.stop();
    this.#channel?.close();
    this.#store.close();
    this.#listeners.clear();
  }

  #unknownToServer(): OutboxRow[] {
    const { memory } = this.#keeping;
    return [...memory.outbox("waiting"), ...memory.outbox("rejected")];
  }

  #listed(st: OutboxRow["st"]): Pending[] {
    const rows = this.#keeping.memory.outbox(st).sort((a, b) => compareText(a.hlc, b.hlc));
    return rows.flatMap(({ id, code, why }) => {
      const event = this.event(id);
      return event ? [{ event, code, why }] : [];
    });
  }

  #prune(): void {
    this.#keeping.prune(new Set(this.view.parked));
  }

  async #seeMates(): Promise<void> {
    const place = { farmId: this.farmId, env: this.#env, device: this.#device };
    const rows = await Promise.all((this.#options.mates ?? []).map((mate) => waitingOf(mate, place).catch(() => [])));
    this.#keeping.takeMates([...this.#left, ...rows.flat()]);
    this.#left = [];
  }

  /** Where there is a signal, what others left here goes out too: each as herself, as long as she has a seat of her own. */
  async #sendForMates(): Promise<void> {
    const authors = new Set(this.ofMates().map(({ author }) => author));
    const mates = [...authors].filter((mate) => !this.#locked_mates.has(mate));
    if (mates.length === 0) return;
    for (const mate of mates) {
      if ((await this.#sentAs(mate)).kind === "locked") this.#locked_mates.add(mate);
    }
    // Back in one's own seat, and what has just gone out comes in before it is taken off the list of what waits.
    if ((await this.#sender.run()).kind === "done") await this.#seeMates();
  }

  async #sentAs(person: string): Promise<Ended> {
    const theirs = await Farm.open({
      ...this.#options, person, mates: [], after: "", early: false, device: this.#device, env: this.#env, session: this.session,
    });
    const ended = await theirs.#sender.run();
    theirs.close();
    return ended;
  }

  #desk(): Desk {
    const keeping = this.#keeping;
    return {
      person: this.person,
      farmId: this.farmId,
      clock: this.#clock,
      unsent: () => keeping.unsent(),
      position: () => ({ epoch: keeping.meta.epoch, cursor: keeping.meta.cursor ?? START }),
      isOwn: (entry) => keeping.isOwn(entry),
      textOf: (id) => keeping.memory.row(id)?.text,
      settled: (settled) => keeping.settled(settled),
      applied: (changes, rows) => keeping.applied(changes, rows),
      reaches_back: (changes) => keeping.reaches_back(changes),
      replaced: () => keeping.reload(),
      sending: (n, of) => {
        this.#sending = { n, of };
        if (n) this.#changed(false);
      },
      note: (what, detail) => keeping.note(what, detail),
    };
  }

  #onOutdated(): void {
    this.#outdated = true;
    this.#changed(false);
  }

  #changed(stored: boolean): void {
    if (stored) this.#channel?.postMessage("changed");
    for (const listener of this.#listeners) listener();
  }
}
