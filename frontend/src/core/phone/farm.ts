import type { Clock } from "../base/clock.ts";
import { FarmZone } from "../base/days.ts";
import { browserEnv, type Channel, type Env } from "../base/env.ts";
import { newId } from "../base/ids.ts";
import { APP, isOlder } from "../base/versions.ts";
import type { Data, Envelope } from "../events/events.ts";
import type { Kind } from "../events/kinds.ts";
import { BadEvent } from "../events/bad_event.ts";
import type { View } from "../state/view.ts";
import type { HerdCard } from "../outlook/card.ts";
import type { Outlook } from "../outlook/ground/documents.ts";
import type { Context } from "../outlook/ground/context.ts";
import type { Evaluation } from "../outlook/whole/evaluation.ts";
import type { Book } from "../outlook/ground/herd_figures.ts";
import type { MangerDay } from "../outlook/verdict/season.ts";
import type { DoeResult, Prompt, Results } from "../outlook/ground/shapes.ts";
import { bring, brought, NoSecond } from "./bring.ts";
import type { ByFile } from "./by_file.ts";
import { made, NAMELESS, otherTabs, storage } from "./farm_parts.ts";
import type { FarmOptions, Pending, Recorded, When } from "./farm_shapes.ts";
import { FirstLook } from "./first_look.ts";
import { Keeping } from "./keeping.ts";
import { Listeners } from "./listeners.ts";
import type { PhoneSharers } from "./phone_sharers.ts";
import type { Picture } from "./picture.ts";
import { ServerLink } from "./server_link.ts";
import { countsOf, statusOf, type Status } from "./status.ts";
import type { FarmStore } from "./store/farm_store.ts";
import { deviceOf } from "./store/phone.ts";
import type { PersonRow } from "./store/rows.ts";
import type { Schedule } from "./sync/schedule.ts";
import type { Ended } from "./sync/ended.ts";
import { Session } from "./sync/session.ts";
import type { Unread } from "./unread.ts";
import { WorkedOut } from "./worked_out.ts";

/** The farm on this phone: changed at the tap, painted, then written. The one thing the screens talk to. */
export class Farm {
  readonly person: string;
  readonly farmId: string;
  readonly zone: FarmZone;
  readonly session: Session;
  readonly byFile: ByFile;
  readonly #env: Env;
  readonly #device: string;
  readonly #clock: Clock;
  readonly #store: FarmStore;
  readonly #keeping: Keeping;
  readonly #worked: WorkedOut;
  readonly #link: ServerLink;
  readonly #channel: Channel | null;
  readonly #options: FarmOptions;
  #sharers: PhoneSharers | null = null;
  readonly #look: FirstLook;
  readonly #listeners = new Listeners();
  /** A newer app in another tab has taken over the database: this one must be opened again. */
  outdated = false;
  #complete: Promise<void> | null = null;

  private constructor(options: FarmOptions, env: Env, device: string) {
    const { person, farmId } = options;
    [this.#options, this.person, this.farmId, this.#env, this.#device] = [options, person, farmId, env, device];
    this.zone = new FarmZone(options.zone);
    this.session = options.session ?? new Session(env);
    const told = { onOutdated: () => this.#outdate(), onLost: () => this.#keeping.emptied() };
    const { clock, store } = storage(options, env, device, told);
    [this.#clock, this.#store] = [clock, store];
    const fold = (events: Envelope[]) => this.#worked.fold(events, env.rest);
    const changed = (stored: boolean) => this.#changed(stored);
    const of = { person, farm: farmId, names: options.names ?? NAMELESS, env, store };
    const keeping = (this.#keeping = new Keeping({ ...of, device, zone: this.zone, clock, fold, changed }));
    this.#worked = new WorkedOut(keeping);
    this.#look = new FirstLook(keeping, this.#worked, store, this.zone);
    this.#link = new ServerLink({
      person, farmId, env, clock, store, keeping, session: this.session, view: () => this.view,
      changed: () => this.#changed(false), others: async () => this.#sharers?.send() ?? null,
    });
    this.byFile = { ...of, keeping, carried: () => this.schedule.logged() };
    this.#channel = otherTabs(env, store.name, () => void this.#reload(), () => keeping.forget());
  }

  /** They come with all of the farm. */
  async #others(): Promise<PhoneSharers> {
    const [{ PhoneSharers }, keeping, { sharers = [] }] = [await bring(), this.#keeping, this.#options];
    const phone = { farmId: this.farmId, env: this.#env, device: this.#device };
    const [send, sendAs] = [() => this.#link.send(), (sharer: string) => this.#sentAs(sharer)];
    return (this.#sharers ??= new PhoneSharers({ sharers, phone, keeping, send, sendAs }));
  }

  static async open(options: FarmOptions): Promise<Farm> {
    const env = { ...browserEnv(), ...options.env };
    const device = options.device ?? (await deviceOf(env));
    const farm = new Farm(options, env, device);
    const { after } = options;
    if (after) await (await farm.#others()).follow(after, options.person);
    // Whoever takes the phone over wants what it knows now, not what she saw when she last had it.
    if (!options.early || after || !(await farm.#look.take())) await farm.complete();
    return farm;
  }

  /** What was on the screen when the farm was last at rest, until everything has been read. */
  get picture(): Picture | null {
    return this.#look.picture;
  }

  /** Everything this phone has of the farm, and what judges it. What was recorded until then is in it. */
  complete(): Promise<void> {
    return (this.#complete ??= this.#open());
  }

  async #open(): Promise<void> {
    const keeping = this.#keeping;
    // what is not here to fold it is no fault of what was read
    const stumbled = (error: unknown) => error instanceof NoSecond || keeping.notOpened(error);
    const [{ tidy }] = await Promise.all([bring(), keeping.open().catch(stumbled)]);
    this.#look.picture = null;
    await (await this.#others()).see();
    tidy(this.#keeping, () => this.view);
    this.#changed(false);
  }

  /** Another tab has written. */
  async #reload(): Promise<void> {
    try {
      await this.complete();
      await this.#keeping.reload();
    } catch (error) {
      this.#keeping.notReloaded(error);
    }
  }

  /** Keeps what the list shows for the next opening. Nothing is kept while an entry waits to be written. */
  keepPicture(day: string, does: Record<string, DoeResult>, pens: Record<string, Prompt | null>): Promise<void> {
    return this.#look.keep({ day, now: this.#env.now(), does, pens, clock: this.#clock.last });
  }

  /** An entry is counted and not in storage yet. */
  readonly isWriting = (): boolean => this.#keeping.writing;

  get view(): View {
    return this.#worked.view;
  }

  /** Today is the farm's own date, unless another day is asked for. */
  results(day = this.today()): Results {
    return this.#worked.on(day).results();
  }

  /** The same, doe by doe and pen by pen, as they are asked for; its `ctx` for what the results do not answer. */
  evaluation(day = this.today()): Evaluation {
    return this.#worked.on(day);
  }

  /** What is asked of a farm without judging it. */
  readonly context = (day = this.today()): Context => this.#worked.context(day);

  /** The drawn line of one doe: eaten against needed, behind and ahead of a day. */
  season(doe: string, back_d = 60, ahead_d = 14, day = this.today()): MangerDay[] {
    return this.#worked.season(doe, back_d, ahead_d, day);
  }

  get book(): Book { return this.#worked.book; }
  get card(): HerdCard | null { return this.#worked.card; }
  get years(): WorkedOut["years"] { return this.#worked.years; }
  outlook(doe: string): Outlook | null {
    return this.#worked.outlook(doe);
  }
  get people(): PersonRow[] {
    return this.#keeping.meta.people ?? [];
  }
  nameOf(person: string): string {
    return this.people.find(({ id }) => id === person)?.name ?? "";
  }

  get status(): Status {
    return statusOf(countsOf(this.#keeping, this.#link, this.#look.picture));
  }

  get updateNeeded(): boolean {
    return isOlder(APP, this.#keeping.meta.min_app ?? "");
  }

  today(): string {
    return this.zone.dateAt(this.#env.now());
  }

  /** The same, or later where this phone's clock is behind what it has heard. */
  latestDay(): string {
    return this.zone.dateAt(this.#keeping.known_ms);
  }

  newId(): string {
    return newId(this.#env.now(), this.#env.random);
  }

  event(id: string): Envelope | undefined {
    return this.#keeping.memory.event(id);
  }

  /** What can be put into words, of what is asked for: neither what waits for a newer app nor what nobody can read. */
  events(wanted: (event: Envelope) => boolean): Envelope[] {
    const readable = brought()?.readable ?? (() => true);
    return this.#keeping.memory.counting().filter((event) => wanted(event) && readable(event));
  }
  readonly unread = (): Unread => brought()!.unreadOf(this.view, (id) => this.event(id));
  /**
   * Throws BadEvent before anything is kept. Then: memory at once, listeners told, storage after. Before there is
   * anything to check it by no form is open: a tap in the list is made by the app itself, and stored whatever comes.
   */
  record(kind: Kind, subject: string, data: Data, when: When = {}): Recorded {
    const [author, device, clock] = [this.person, this.#device, this.#clock];
    const event = made({ kind, subject, data }, when, { author, device, clock }, this.#env, this.zone);
    const problem = brought()?.problem_of(event);
    if (problem) throw new BadEvent(problem);
    const recorded = this.#keeping.record(event);
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
    return this.#keeping.memory.listed("waiting");
  }

  /** Entries of others that only this phone knows. */
  ofSharers(): Envelope[] {
    return this.#sharers?.waiting() ?? [];
  }

  /** Entries the farm's server refused, with its reason, kept until a person lets them go. */
  needsYou(): Pending[] {
    return this.#keeping.memory.listed("rejected");
  }

  discard(ids: string[]): Promise<void> {
    return this.#keeping.letGo(ids.filter((id) => this.#keeping.memory.row(id)?.st === "rejected"));
  }

  /** On a person's word at sign-out, after being told how many: lets go of everything the server does not have. */
  throwAway(): Promise<void> {
    return this.#keeping.letGo(this.#keeping.memory.unknown_to_server().map(({ id }) => id));
  }

  get schedule(): Schedule { return this.#link.schedule; }

  /** The last try to reach the server came to nothing: what waits here is known to nobody else. */
  get unheard(): boolean {
    return this.#link.unheard;
  }

  sync(): Promise<Ended> {
    return this.#link.anew();
  }

  readonly subscribe = (listener: () => void): (() => void) => this.#listeners.add(listener);

  /** The last happenings on this phone, to share when something is odd. */
  diagnostics(): string {
    const [{ kind, n }, unread] = [this.status, brought()?.unread_counts(() => this.view) ?? ""];
    return `app ${APP} device ${this.#device} status ${kind} ${n} ${unread}\n${this.#keeping.diagnostics.text()}`;
  }

  /** On the farm no more, and nothing of it is left here. */
  get removed(): boolean {
    return this.#keeping.gone;
  }

  close(): void {
    this.schedule.stop();
    for (const part of [this.#channel, this.#keeping.hand, this.#store]) part?.close();
    this.#listeners.clear();
  }

  async #sentAs(person: string): Promise<Ended> {
    const [device, env, session] = [this.#device, this.#env, this.session];
    const { store: _mine, ...shared } = this.#options;
    const hers = { ...shared, person, sharers: [], after: "", early: false, names: NAMELESS };
    const theirs = await Farm.open({ ...hers, device, env, session });
    const ended = await theirs.#link.sendOrLeave();
    theirs.close();
    return ended;
  }

  #outdate(): void {
    this.outdated = true;
    this.#changed(false);
  }

  #changed(stored: boolean): void {
    if (stored) this.#channel?.postMessage("changed");
    this.#listeners.tell((error) => this.#keeping.note("screen", String(error)));
  }
}
