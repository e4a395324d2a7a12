import type { HerdCard } from "../../core/outlook/card.ts";
import { Context } from "../../core/outlook/ground/context.ts";
import { NO_BOOK, type BookFeed, type Signs } from "../../core/outlook/ground/herd_figures.ts";
import type { Evaluation } from "../../core/outlook/whole/evaluation.ts";
import type { Farm } from "../../core/phone/farm.ts";
import { shown } from "../../core/phone/picture.ts";
import { placed_on } from "../../core/state/where.ts";
import { empty } from "../../core/state/empty.ts";
import * as format from "../words/format.ts";
import { speech } from "../shell/language.svelte.ts";
import { mealsPlanned, nameOf, pens, saidAt } from "./herd.ts";
import { FIRST_LIGHT_H, localClock, mealAt } from "./hours.ts";
import { Judged } from "./judged.svelte.ts";
import { LiveView } from "./live.svelte.ts";
import type { FullResult, Outlook, Results } from "./results.ts";
import { t } from "../words/text.ts";
import { session } from "./session.svelte.ts";
import type { Slot, View } from "./shapes.ts";
import { keptSame } from "./kept_same.ts";

const NO_RESULTS: Results = { does: {}, pens: {} };
const TICK_MS = 20_000;
const NEAR_MS = 12 * 3_600_000;

/** The farm's own day and slot, and what is shown of the farm in them. */
class Day {
  now = $state(Date.now());
  #chosen = $state<Slot>("");
  /** Whom the last entry was about: she is judged before all others. */
  tapped = "";
  #shows: Farm | null = null;
  #placed: [of: readonly [View["does"], string], shown: View["does"]] = [[{}, ""], {}];
  readonly #live = new LiveView();
  /** A row's result: drawn anew only when it is another one. `result` gives what a doe's own page needs besides. */
  readonly judged = new Judged(() => pens(this.view).map(({ id }) => id), () => this.#atRest());
  #book = $state.raw(NO_BOOK);
  readonly #sameNames = keptSame<Record<string, string>>();

  constructor() {
    session.changed = () => this.changed();
  }

  /** Whoever reads one part of it is told of changes to that part alone. */
  get view(): View {
    return this.#live.view;
  }
  get feeds(): Record<string, BookFeed> {
    return this.#book.feeds;
  }
  get signs(): Signs | undefined {
    return this.#book.signs;
  }
  get card(): HerdCard | null {
    return session.farm?.card ?? null;
  }
  get units(): format.Units {
    return this.view.rules.f["units"] === "lb" ? "lb" : "metric";
  }
  readonly #clock = $derived(localClock(this.now, session.zone));
  get today(): string {
    return this.#clock.date;
  }
  get hour(): number {
    return this.#clock.hour;
  }
  get minute(): number {
    return 60 * this.#clock.hour + this.#clock.minute;
  }
  readonly #meals = $derived(mealsPlanned(this.view, this.today).join());
  readonly #nearest = $derived(mealAt(this.hour, this.#meals.split(",").filter(Boolean)));
  get slot(): Slot {
    return this.#chosen || this.#nearest;
  }
  set slot(slot: Slot) {
    this.#chosen = slot;
    this.#showMeal();
  }
  /** A late look past midnight still belongs to the evening before. */
  get slotDay(): string {
    const before = this.slot === "late" && this.#clock.hour < FIRST_LIGHT_H;
    return before ? format.addDays(this.today, -1) : this.today;
  }
  /** What the plan is read from, on the day the chosen slot belongs to. */
  readonly plan = $derived.by(() => new Context(this.#planned, {}, this.#book, this.slotDay));
  /** What was last fed decides only where an amount is under question. */
  get #planned(): View {
    const { does, pens, feeds, lots, scoops, calibrations, bags, rations, questions } = this.view;
    const feedings = questions.some(({ kind }) => kind === "ration") ? this.view.feedings : [];
    return { ...empty(), does, pens, feeds, lots, scoops, calibrations, bags, rations, questions, feedings };
  }
  /** Does and pens by name; the same object for as long as nobody is called otherwise. */
  readonly #names = $derived.by(() => {
    const { does, pens } = this.view;
    const rows = [...Object.values(pens), ...Object.values(does)];
    return this.#sameNames(Object.fromEntries(rows.map((row) => [row.id, nameOf(row)])));
  });
  named(id: string): string {
    return this.#names[id] ?? "";
  }
  /** Everything, at once: many times the work of one doe's `result`. */
  get results(): Results {
    return session.farm?.results(this.today) ?? NO_RESULTS;
  }
  result(doe: string): FullResult | undefined {
    void this.judged.units;
    return !session.whole ? undefined : session.farm?.evaluation(this.today).full(doe);
  }
  outlook(doe: string): Outlook | null {
    return session.farm?.outlook(doe) ?? null;
  }

  clock(ms: number): string {
    return format.clock(ms, session.zone);
  }
  /** "05:41", or the day and the time when it was not today. */
  when(ms: number): string {
    const on = localClock(ms, session.zone).date;
    return on === this.today ? this.clock(ms) : `${this.spoken(on)} ${this.clock(ms)}`;
  }
  /** An hour of the night at hand, with its day where another one of that name is nearer. */
  near(ms: number): string {
    const time = this.clock(ms);
    if (Math.abs(ms - this.now) <= NEAR_MS) return time;
    return t("at.day", { time, day: this.spoken(localClock(ms, session.zone).date) });
  }
  /** A date in words. */
  spoken(on: string): string {
    return format.day(on, this.today);
  }
  /** The same beside the name of a meal. */
  mealDay(on: string): string {
    return format.mealDay(on, this.today);
  }
  amount(g: number): string {
    return format.amount(g, this.units);
  }

  start(): void {
    setInterval(() => this.#tick(), TICK_MS);
    document.addEventListener("visibilitychange", () => {
      this.#tick();
      if (document.visibilityState !== "visible") this.judged.leave();
    });
  }
  #tick(): void {
    this.now = Date.now();
    if (this.#shows) this.#show(this.#shows);
    this.#showMeal();
    this.#judge();
  }
  /** The farm has changed: its parts are shown at once, and whom that reaches is judged after the next frame. */
  changed(): void {
    const { farm } = session;
    if (!farm) return this.judged.stop();
    if (farm !== this.#shows) this.#begin(farm);
    this.judged.meet(farm.view);
    this.#show(farm);
    this.#book = farm.book;
    this.#showMeal();
    this.#judge();
  }
  /** A move that is dated tomorrow shows tomorrow. */
  #show({ view }: Farm): void {
    const of = [view.does, this.today] as const;
    if (of.some((part, i) => part !== this.#placed[0][i])) this.#placed = [of, placed_on(...of)];
    speech.callsFlakes(String(view.rules.f["flake_word"] ?? ""));
    this.#live.show({ ...view, does: this.#placed[1] });
  }
  #begin(farm: Farm): void {
    this.#shows = farm;
    this.judged.clear();
    if (farm.picture?.day === this.today) this.judged.show(farm.picture);
  }
  /** What was said of each at this meal, and nothing else of a change. */
  showSaid(): void {
    this.#showMeal(session.farm?.view);
  }
  #showMeal(view = this.view): void {
    this.judged.putMeal(saidAt(view, this.slotDay, this.slot));
  }
  #judge(): void {
    const { farm } = session;
    if (farm && !farm.picture) this.judged.go(farm.evaluation(this.today), this.tapped);
  }
  #atRest(): void {
    const evaluation = session.farm!.evaluation(this.today);
    this.#keepPicture(evaluation);
    const still = () => session.farm?.evaluation(this.today) === evaluation;
    void import("./acting.ts").then(({ work_ahead }) => work_ahead(evaluation, still));
  }
  #keepPicture(evaluation: Evaluation): void {
    const farm = session.farm!;
    const does = Object.keys(this.view.does).flatMap((id) => {
      const found = evaluation.doe(id);
      return found ? [[id, shown(found)] as const] : [];
    });
    const prompts = Object.keys(this.view.pens).map((id) => [id, evaluation.unit(id).prompt] as const);
    void farm.keepPicture(this.today, Object.fromEntries(does), Object.fromEntries(prompts));
  }
}

export const day = new Day();
