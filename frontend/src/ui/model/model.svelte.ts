import { Farm } from "../../core/phone/farm.ts";
import { NO_BOOK, type BookFeed } from "../../core/outlook/herd_figures.ts";
import { CARD, type Card } from "../../core/outlook/card.ts";
import { empty } from "../../core/state/fold.ts";
import { Context } from "../../core/outlook/context.ts";
import { shown } from "../../core/phone/picture.ts";
import type { Status } from "../../core/phone/status.ts";
import type { LastUse } from "../../core/phone/store/phone.ts";
import type { FarmEntry } from "../../core/phone/sync/session.ts";
import { Doorway, type Outcome } from "../shell/doorway.ts";
import * as format from "../words/format.ts";
import { nameOf, pens, saidAt } from "./herd.ts";
import { localClock, noonOf, slotAt, FIRST_LIGHT_H } from "./hours.ts";
import { drawn, Judging } from "./judging.ts";
import { Judged, LiveView } from "./live.svelte.ts";
import type { FullResult, Outlook, Results } from "./results.ts";
import type { Data, Envelope, Kind, Saved, Slot, View, When } from "./shapes.ts";
import { briefly } from "../sentences/records.ts";
import { Saying } from "./saying.svelte.ts";
import { steady } from "./steady.ts";
import { t } from "../words/text.ts";

const NO_RESULTS: Results = { does: {}, pens: {} };
const SENT: Status = { kind: "sent", n: 0, of: 0, at: 0, why: "" };
const TICK_MS = 20_000;

/** The one place where screens meet the core: current farm, day and slot, and the two verbs record and undo. */
class Model {
  stage = $state<"starting" | "sign_in" | "farms" | "farm">("starting");
  entry = $state.raw<FarmEntry | null>(null);
  now = $state(Date.now());
  newVersion = $state(false);
  /** All of the farm is here, and not only the list as it was when it was last at rest. */
  whole = $state(false);
  readonly door = new Doorway();
  #farm = $state.raw<Farm | null>(null);
  #changes = $state(0);
  #chosen = $state<Slot>("");
  #stop: () => void = () => {};
  #act: string[] | null = null;
  #act_said = "";
  readonly saying = new Saying();
  #holding = false;
  /** Whom the last entry was about: she is judged before all others. */
  #tapped = "";
  readonly #live = new LiveView();
  /** A row's result: drawn anew only when it is another one. `result` gives what a doe's own page needs besides. */
  readonly judged = new Judged();
  readonly #judging = new Judging(this.judged, () => pens(this.view).map(({ id }) => id), () => this.#keepPicture());
  #book = $state.raw(NO_BOOK);
  readonly #sameNames = steady<Record<string, string>>();

  get farm(): Farm | null {
    void this.#changes;
    return this.#farm;
  }
  /** Whoever reads one part of it is told of changes to that part alone. */
  get view(): View {
    return this.#live.view;
  }
  get feeds(): Record<string, BookFeed> {
    return this.#book.feeds;
  }
  get card(): Card | null {
    return (this.farm?.outlook(CARD) ?? null) as Card | null;
  }
  get status(): Status {
    return this.farm?.status ?? SENT;
  }
  get unheard(): boolean {
    return this.farm?.unheard ?? false;
  }
  get units(): format.Units {
    return this.view.rules.f["units"] === "lb" ? "lb" : "metric";
  }
  get farmId(): string {
    return this.entry?.id ?? "";
  }
  /** Whoever's name stands under what is tapped now. */
  get on(): string {
    const id = this.farm?.person;
    return [...this.door.users.map(({ person }) => person), this.door.person].find((person) => person?.id === id)?.name ?? "";
  }
  /** Who plans: the owner and the family. Whoever helps records, holds and reduces. */
  get plans(): boolean {
    return ["owner", "family"].includes(this.entry?.role ?? "");
  }
  get zone(): string {
    return this.entry?.zone ?? "UTC";
  }
  readonly #clock = $derived(localClock(this.now, this.zone));
  get today(): string {
    return this.#clock.date;
  }
  get hour(): number {
    return this.#clock.hour;
  }
  get slot(): Slot {
    return this.#chosen || slotAt(this.#clock.hour);
  }
  set slot(slot: Slot) {
    this.#chosen = slot;
    this.#showMeal();
  }
  /** A late look past midnight still belongs to the evening before. */
  get slotDay(): string {
    return this.slot === "late" && this.#clock.hour < FIRST_LIGHT_H ? format.addDays(this.today, -1) : this.today;
  }
  /** What the plan is read from, on the day the chosen slot belongs to. */
  readonly plan = $derived.by(() => new Context(this.#planned, {}, this.#book, this.slotDay));
  /** What was last fed decides only where an amount is under question. */
  get #planned(): View {
    const { does, pens, feeds, lots, scoops, calibrations, bags, rations, questions } = this.view;
    const asked = questions.some(({ kind }) => kind === "ration");
    return { ...empty(), does, pens, feeds, lots, scoops, calibrations, bags, rations, questions, feedings: asked ? this.view.feedings : [] };
  }
  /** Does and pens by name; the same object for as long as nobody is called otherwise. */
  readonly #names = $derived.by(() => {
    const { does, pens } = this.view;
    return this.#sameNames(Object.fromEntries([...Object.values(pens), ...Object.values(does)].map((row) => [row.id, nameOf(row)])));
  });
  named(id: string): string {
    return this.#names[id] ?? "";
  }
  /** Everything, at once: many times the work of one doe's `result`. */
  get results(): Results {
    return this.farm?.results(this.today) ?? NO_RESULTS;
  }
  result(doe: string): FullResult | undefined {
    return !this.whole ? undefined : this.farm?.evaluation(this.today).full(doe);
  }
  get statusText(): string {
    const { kind, n, of, at } = this.status;
    return t(`status.${kind}${kind === "sent" && !at ? ".never" : ""}`, { n, of, at: at ? this.clock(at) : "" });
  }
  get events(): Envelope[] {
    return this.farm?.events() ?? [];
  }
  outlook(doe: string): Outlook | null {
    return this.farm?.outlook(doe) as Outlook | null;
  }

  clock(ms: number): string {
    return format.clock(ms, this.zone);
  }
  /** "05:41", or the day and the time when it was not today. */
  when(ms: number): string {
    const on = localClock(ms, this.zone).date;
    return on === this.today ? this.clock(ms) : `${format.day(on, this.today)} ${this.clock(ms)}`;
  }
  day(on: string): string {
    return format.day(on, this.today);
  }
  amount(g: number): string {
    return format.amount(g, this.units);
  }
  who(person: string): string {
    return person === this.farm?.person ? t("you") : this.farm?.nameOf(person) || t("someone");
  }

  async start(): Promise<void> {
    setInterval(() => this.#tick(), TICK_MS);
    document.addEventListener("visibilitychange", () => this.#seen(document.visibilityState === "visible"));
    addEventListener("online", () => this.#farm?.schedule.online());
    const last = await this.door.lastFarm();
    if (last) return this.open(last);
    this.stage = (await this.door.signedIn()) ? "farms" : "sign_in";
  }
  #tick(): void {
    this.now = Date.now();
    this.#showMeal();
    this.#judge();
  }
  #seen(visible: boolean): void {
    this.#tick();
    if (visible) this.#farm?.schedule.visible();
    else {
      this.#judging.leave();
      this.#farm?.schedule.hidden();
    }
  }
  async signIn(name: string, password: string): Promise<Outcome> {
    const outcome = await this.door.signIn(name, password);
    if (!outcome.ok) return outcome;
    if (this.#farm && this.door.person?.id === this.#farm.person) void this.#farm.schedule.now();
    else await this.#goOn(this.door.farms.find(({ id }) => id === this.entry?.id) ?? (this.door.farms.length === 1 ? this.door.farms[0] : undefined));
    return outcome;
  }
  /** Who's on: another one of this phone's people, without a password. */
  takeOver(use: LastUse): Promise<void> {
    return this.#goOn(this.door.takeOver(use, this.entry?.id));
  }
  async #goOn(entry: FarmEntry | undefined): Promise<void> {
    if (entry) {
      await this.open(entry);
      return void (location.hash = "#/");
    }
    this.close();
    this.stage = "farms";
  }
  async open(entry: FarmEntry): Promise<void> {
    const farm = await this.door.open(entry, entry.id === this.entry?.id ? this.#farm?.person : "");
    this.close();
    [this.entry, this.#farm] = [entry, farm];
    this.judged.clear();
    this.whole = farm.picture === null;
    if (farm.picture?.day === this.today) this.judged.show(farm.picture);
    this.#stop = farm.subscribe(() => this.#took());
    this.#took();
    this.stage = "farm";
    // The list is on the screen, a pen a frame, before the rest is read.
    if (!this.whole) for (let frame = -2; frame < pens(this.view).length; frame++) await drawn();
    await farm.complete();
    if (this.#farm !== farm) return;
    this.whole = true;
    this.#judge();
    farm.schedule.start();
  }
  /** The farm has changed: its parts are shown at once, and whom that reaches is judged after the next frame. */
  #took(): void {
    if (this.#holding) return;
    this.#changes += 1;
    this.judged.meet(this.#farm!.view);
    this.#live.show(this.#farm!.view);
    this.#book = this.#farm!.book;
    this.#showMeal();
    this.#judge();
  }
  #showMeal(): void {
    this.judged.putMeal(saidAt(this.view, this.slotDay, this.slot));
  }
  #judge(): void {
    if (this.#farm && !this.#farm.picture) this.#judging.go(this.#farm, this.today, this.#tapped);
  }
  #keepPicture(): void {
    const farm = this.#farm!;
    const evaluation = farm.evaluation(this.today);
    const does = Object.keys(this.view.does).flatMap((id) => [evaluation.doe(id)].flatMap((found) => (found ? [[id, shown(found)] as const] : [])));
    const prompts = Object.keys(this.view.pens).map((id) => [id, evaluation.unit(id).prompt] as const);
    void farm.keepPicture(this.today, Object.fromEntries(does), Object.fromEntries(prompts));
  }
  async signOut(throwAway = false): Promise<void> {
    if (throwAway) await this.#farm?.throwAway();
    this.close();
    await this.door.signOut();
    location.hash = "";
    this.stage = "sign_in";
  }
  close(): void {
    this.#stop();
    this.#judging.stop();
    this.#farm?.close();
    [this.#farm, this.entry, this.saying.toast] = [null, null, null];
  }

  record(kind: Kind, subject: string, data: Data, when: When = {}): Saved {
    const on = when.on ?? this.slotDay;
    const near = on === this.today || on === this.slotDay;
    const happened = when.happened ?? (near ? Date.now() : noonOf(on));
    this.#tapped = subject;
    const saved = this.#farm!.record(kind, subject, data, { on, slot: when.slot ?? this.slot, happened });
    this.#act?.push(saved.id);
    if (when.quiet || (this.#act?.length ?? 0) > 1) saved.saved.catch(() => this.saying.notSaved());
    else this.#follow(saved, "saved", this.#act ?? [saved.id]);
    navigator.vibrate?.(15);
    return saved;
  }
  /** What is recorded within is one act: spoken of once, and one undo takes all of it. */
  together(said: string, act: () => void): void {
    [this.#act, this.#act_said] = [[], said];
    try {
      this.#asOne(act);
    } finally {
      [this.#act, this.#act_said] = [null, ""];
    }
  }
  /** Several entries of one tap are one change to look at. */
  #asOne(act: () => void): void {
    this.#holding = true;
    try {
      act();
    } finally {
      this.#holding = false;
      this.#took();
    }
  }
  undo(...ids: string[]): void {
    if (!this.whole) return void this.#farm!.complete().then(() => this.undo(...ids));
    const undone: Saved[] = [];
    this.#asOne(() => ids.forEach((id) => undone.push(this.#farm!.undo(id))));
    for (const { saved } of undone.slice(1)) saved.catch(() => this.saying.notSaved());
    this.#follow(undone[0]!, "undone", []);
  }
  #follow(saved: Saved, key: string, undo: string[]): void {
    const event = this.#farm!.event(saved.id);
    this.saying.follow(saved, event && undo.length ? `${this.#act_said || briefly(event)}.` : "", key, undo);
  }
}

export const model = new Model();
