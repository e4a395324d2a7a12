import type { Book } from "../outlook/herd_figures.ts";
import { Clock } from "../base/clock.ts";
import { Company } from "./company.ts";
import { FarmZone } from "../base/days.ts";
import { deskOf } from "./server_link.ts";
import { browserEnv, type Channel, type Env } from "../base/env.ts";
import type { Data, Envelope } from "../events/events.ts";
import type { FarmOptions, Pending, Recorded, When } from "./farm_shapes.ts";
import { FirstLook } from "./first_look.ts";
import { newId } from "../base/ids.ts";
import { Keeping } from "./keeping.ts";
import { Listeners } from "./listeners.ts";
import type { Kind } from "../events/kinds.ts";
import { readable } from "../events/readable.ts";
import type { Context } from "../outlook/context.ts";
import type { Evaluation } from "../outlook/evaluation.ts";
import type { MangerDay } from "../outlook/season.ts";
import type { Outlook } from "../outlook/documents.ts";
import type { DoeResult, Prompt, Results } from "../outlook/shapes.ts";
import type { Picture } from "./picture.ts";
import { Reading } from "./reading.ts";
import type { View } from "../state/view.ts";
import { statusOf, type Status } from "./status.ts";
import { FarmStore } from "./store/farm_store.ts";
import { deviceOf } from "./store/phone.ts";
import type { PersonRow } from "./store/rows.ts";
import { Schedule } from "./sync/schedule.ts";
import { Sender, type Ended, type LockedBy } from "./sync/sender.ts";
import { Session } from "./sync/session.ts";
import { tidy, unreadOf, type Unread } from "./unread.ts";
import { listed, unknownToServer } from "./unsent.ts";
import { APP, isOlder } from "../base/versions.ts";
import { Writer } from "./writer.ts";

export type { FarmOptions, Pending, Recorded, When };

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
  readonly #company: Company;
  readonly #look: FirstLook;
  readonly #writer: Writer;
  readonly #listeners = new Listeners();
  /** A newer app in another tab has taken over the database: this one must be opened again. */
  outdated = false;
  /** The last try to reach the server came to nothing: what waits here is known to nobody else. */
  unheard = false;
  #complete: Promise<void> | null = null;
  #syncing: Promise<Ended> | null = null;
  #locked: LockedBy | null = null;
  #sending: { n: number; of: number } | null = null;

  private constructor(options: FarmOptions, env: Env, device: string) {
    const { store: opened, ...others } = options;
    const { person, farmId } = options;
    this.#options = others;
    [this.person, this.farmId, this.#env, this.#device] = [person, farmId, env, device];
    this.zone = new FarmZone(options.zone);
    this.session = options.session ?? new Session(env);
    const [clock, store] = [new Clock(device), opened ?? new FarmStore(person, farmId, env)];
    store.onOutdated = () => this.#onOutdated();
    this.#clock = options.parts?.clock?.(clock) ?? clock;
    this.#store = options.parts?.store?.(store) ?? store;
    const changed = (stored: boolean) => this.#changed(stored);
    const fold = (events: Envelope[]) => this.#reading.fold(events, env.rest);
    this.#keeping = new Keeping({ person, device, zone: this.zone, env, clock: this.#clock, store: this.#store, fold, changed });
    this.#reading = new Reading(this.#keeping);
    this.#writer = new Writer({ person, device, zone: this.zone, env, clock: this.#clock, keeping: this.#keeping });
    this.#look = new FirstLook(this.#keeping, this.#reading, this.#store, this.zone);
    const desk = deskOf({ person, farmId, clock: this.#clock, keeping: this.#keeping, view: () => this.view, sending: (n, of) => this.#onSending(n, of) });
    this.#sender = new Sender({ env, store: this.#store, session: this.session, desk });
    this.#company = new Company({
      mates: options.mates ?? [], place: { farmId, env, device }, keeping: this.#keeping,
      send: () => this.#sender.run(), sendAs: (mate) => this.#sentAs(mate),
    });
    this.schedule = new Schedule(() => this.sync(), env);
    this.#channel = env.channel?.(`mangerline/${person}/${farmId}`) ?? null;
    if (this.#channel) this.#channel.onmessage = () => void this.complete().then(() => this.#keeping.reload()).catch((error: unknown) => this.#keeping.note("reload", String(error)));
  }

  static async open(options: FarmOptions): Promise<Farm> {
    const env = { ...browserEnv(), ...options.env };
    const device = options.device ?? (await deviceOf(env));
    const farm = new Farm(options, env, device);
    const { after } = options;
    if (after) await farm.#company.follow(after, options.person);
    // Whoever takes the phone over wants what it knows now, not what she saw when she last had it.
    if (!options.early || after || !(await farm.#look.take())) await farm.complete();
    return farm;
  }

  /** What was on the screen when the farm was last at rest, until everything has been read. */
  get picture(): Picture | null {
    return this.#look.picture;
  }

  /** Everything this phone has of the farm. What was recorded until then is in it. */
  complete(): Promise<void> {
    return (this.#complete ??= this.#open());
  }

  async #open(): Promise<void> {
    const keeping = this.#keeping;
    await keeping.open().catch((error: unknown) => keeping.notOpened(error));
    this.#look.picture = null;
    await this.#company.see();
    tidy(this.#keeping, () => this.view);
    this.#changed(false);
  }

  /** Keeps what the list shows for the next opening. Nothing is kept while an entry waits to be written. */
  keepPicture(day: string, does: Record<string, DoeResult>, pens: Record<string, Prompt | null>): Promise<void> {
    return this.#look.keep({ day, now: this.#env.now(), does, pens, clock: this.#clock.last });
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

  readonly card = () => this.#reading.card;

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
    const { memory, not_saved, broken, astray, meta } = this.#keeping;
    return statusOf({
      unsaved: not_saved, storage_broken: broken, astray, locked: this.#locked, sending: this.#sending,
      rejected: memory.count("rejected") + (this.#look.picture?.rejected ?? 0),
      waiting: memory.count("waiting") + this.#keeping.of_mates.length + (this.#look.picture?.waiting ?? 0), at: meta.sent_at ?? 0,
    });
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

  /** What can be put into words: neither what waits for a newer app nor what nobody can read. */
  events(): Envelope[] {
    return this.#keeping.memory.counting().filter(readable);
  }

  readonly unread = (): Unread => unreadOf(this.view, (id) => this.event(id));

  /** Throws BadEvent before anything is kept. Then: memory at once, listeners told, storage after. */
  record(kind: Kind, subject: string, data: Data, when: When = {}): Recorded {
    const recorded = this.#writer.record(kind, subject, data, when);
    recorded.saved.then(() => this.schedule.logged(), () => undefined);
    return recorded;
  }

  /** Nothing is taken away: a later event says that the earlier one does not count. */
  undo(id: string): Recorded {
    const event = this.event(id);
    if (!event) throw new Error(`no such entry: ${id}`);
    return this.record("void", event.subject, { of: id });
  }

  /** Entries only this phone knows, in the order they were recorded. */
  pending(): Pending[] {
    return listed(this.#keeping.memory, "waiting");
  }

  /** Entries of others that only this phone knows. */
  ofMates(): Envelope[] {
    return this.#company.waiting();
  }

  /** Entries the farm's server refused, with its reason, kept until a person lets them go. */
  needsYou(): Pending[] {
    return listed(this.#keeping.memory, "rejected");
  }

  discard(ids: string[]): Promise<void> {
    return this.#keeping.letGo(ids.filter((id) => this.#keeping.memory.row(id)?.st === "rejected"));
  }

  /** On a person's word at sign-out, after being told how many: lets go of everything the server does not have. */
  throwAway(): Promise<void> {
    return this.#keeping.letGo(unknownToServer(this.#keeping.memory).map(({ id }) => id));
  }

  sync(): Promise<Ended> {
    this.#syncing ??= this.#sync().finally(() => (this.#syncing = null));
    return this.#syncing;
  }

  async #sync(): Promise<Ended> {
    await this.#keeping.saveFailed();
    const ended = await this.#sender.run();
    if (ended.kind !== "later" || ended.why !== "other_tab") this.unheard = ended.kind !== "done";
    if (ended.kind === "done") await this.#company.send();
    this.#sending = null;
    if (ended.kind === "done") tidy(this.#keeping, () => this.view);
    else this.#keeping.note(`sync_${ended.kind}`, ended.why);
    if (ended.kind !== "later") this.#locked = ended.kind === "locked" ? ended.why : null;
    this.#keeping.keepRing();
    this.#changed(false);
    return ended;
  }

  readonly subscribe = (listener: () => void): (() => void) => this.#listeners.add(listener);

  /** The last happenings on this phone, to share when something is odd. */
  diagnostics(): string {
    const { kind, n } = this.status;
    return [`app ${APP} device ${this.#device} status ${kind} ${n}`, this.#keeping.ring.text()].join("\n");
  }

  /** Everything not yet on the server, one entry a line, so that it can leave a phone whose storage refuses. */
  asText(): string {
    return unknownToServer(this.#keeping.memory).map(({ text }) => text).join("\n");
  }

  close(): void {
    this.schedule.stop();
    this.#channel?.close();
    this.#store.close();
    this.#listeners.clear();
  }

  async #sentAs(person: string): Promise<Ended> {
    const theirs = await Farm.open({
      ...this.#options, person, mates: [], after: "", early: false, device: this.#device, env: this.#env, session: this.session,
    });
    const ended = await theirs.#sender.run();
    theirs.close();
    return ended;
  }

  #onSending(n: number, of: number): void {
    this.#sending = { n, of };
    if (n) this.#changed(false);
  }

  #onOutdated(): void {
    this.outdated = true;
    this.#changed(false);
  }

  #changed(stored: boolean): void {
    if (stored) this.#channel?.postMessage("changed");
    this.#listeners.tell((error) => this.#keeping.note("screen", String(error)));
  }
}
