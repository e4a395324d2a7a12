import type { Book, BookFeed } from "./herd_figures.ts";
import { dateOf, dayOf } from "../../base/days.ts";
import { compareText } from "../../events/order.ts";
import { pen_on } from "../../state/where.ts";
import type { Doe, Feeding, Intake, Ration, Step, View } from "../../state/view.ts";
import { Memo } from "./memo.ts";
import type { Outlook } from "./documents.ts";
import type {
  BranchDay, Eaten, Fed, FeedLine, LastScore, Nutrient, PerNutrient, Unweighed, Window,
} from "./shapes.ts";
import { SLOTS as ALL_DAY } from "../../tables/entries.ts";
import { LIKES } from "../../tables/codes.ts";
import { RULES, type RuleName } from "../../tables/rules.ts";

/** Those of a day, without the whole of it. */
export const [, ...SLOTS] = ALL_DAY;
export const NUTRIENTS: readonly Nutrient[] = ["me", "cp", "ca", "p"];
export const SCHEMA = 1;

/** Look-ups made once. Those that only the day's records move are named in `after`. */
function memos() {
  return {
    mates: new Map<string, Map<string, string[]>>(), old_since: new Map<string, string>(),
    unweighed: new Map<string, Unweighed[]>(),
    scoop_g: new Map<string, number>(),
    lines: new Memo<Map<string, FeedLine[]>>(), slot: new Memo<BranchDay | null>(), milk: new Memo<number>(),
    appetite: new Memo<number>(), need_dry: new Memo<PerNutrient | null>(), need_sd: new Memo<number>(),
    weighed: new Memo<Map<string, number>>(), confirmed: new Memo<boolean>(), windows: new Memo<Window>(),
    spans: new Memo<Window>(), held: new Memo<number>(), put_less: new Memo<boolean>(),
    eaten: new Memo<Record<string, Eaten>>(), planned: new Memo<Record<string, Eaten>>(),
    sums: new Memo<Fed | null>(), planned_sums: new Memo<Fed | null>(), scores: new Memo<LastScore | null>(),
    feeder: new Memo<"left" | "clean" | "">(),
  };
}

export type Memos = ReturnType<typeof memos>;

/** The farm as known on one phone on one day, and look-ups made once. Holds no biology. */
export class Context {
  readonly view: View;
  readonly outlooks: Record<string, Outlook>;
  readonly book: Book;
  readonly day: string;
  readonly rules: Record<string, number>;
  readonly feedings: Map<string, Feeding[]>;
  readonly intakes: Map<string, Intake[]>;
  readonly plans: Map<string, Ration[]>;
  readonly asked: Map<string, Step[][]>;
  memo: Memos;
  /** A day ahead that is only tried: nobody is there to be asked for anything. */
  tried = false;
  /** Whether a raise waits while the weight of its container is old; not where one asks what a plan comes to. */
  waits: boolean;
  readonly #feeds = new Map<string, BookFeed | null>();

  /** `before`: sorts anew only what it does not share with that one; `kept`: look-ups that hold here too. */
  constructor(
    view: View, outlooks: Record<string, Outlook>, book: Book, day: string, before?: Context, kept: Partial<Memos> = {},
  ) {
    this.view = view;
    this.outlooks = outlooks;
    this.book = book;
    this.day = day;
    this.rules = book.rules;
    this.waits = before?.waits ?? true;
    const same = (part: keyof View) => before?.view[part] === view[part];
    this.feedings = same("feedings") ? before!.feedings : by_day(view.feedings);
    this.intakes = same("intakes") ? before!.intakes : by_day(view.intakes);
    this.plans = same("rations") ? before!.plans : by_subject(view.rations, before);
    this.asked = same("questions") ? before!.asked : rations_asked(view);
    this.memo = { ...memos(), ...kept };
  }

  /**
   * Takes the look-ups of the context before this one, which starts anew; what no longer holds is for the caller to
   * forget.
   */
  inherit(before: Context): void {
    // what was seen of her is soon gone through again
    [this.memo, before.memo] = [{ ...before.memo, scores: new Memo(), feeder: new Memo() }, memos()];
  }

  doe(id: string): Doe {
    return this.view.does[id]!;
  }

  rule(name: RuleName): number {
    const value = this.rules[name];
    if (value === undefined) throw new RangeError(`no herd rule ${name}`);
    return value;
  }

  /** Our own where the book is older than the rule, or there is no book: what hangs on it never waits for one. */
  rule_or_ours(name: RuleName): number {
    return this.rules[name] ?? RULES[name][0];
  }

  /** Still in the herd. */
  here(id: string): boolean {
    return !this.doe(id).left_on;
  }

  /** Does in a pen on a date, sorted by id; a doe in no pen is worked as a pen of her own. */
  pen_mates(pen: string, on: string): string[] {
    if (Object.hasOwn(this.view.does, pen)) return [pen];
    return (pen && once(this.memo.mates, on, () => in_pens(this.view.does, on)).get(pen)) || [];
  }

  /** Composition per kg dry matter: the lot's own, or of the feed it is a lot of, or null when unknown. */
  feed(id: string): BookFeed | null {
    return once(this.#feeds, id, () => classed(this, id, this.#listed(id)));
  }

  #listed(id: string): BookFeed | null {
    const { feeds } = this.book;
    if (Object.hasOwn(feeds, id)) return feeds[id]!;
    const lot = this.view.lots[id] ?? this.view.feeds[id];
    const like = lot ? lot.f["feed"] || lot.f["like"] || "" : "";
    return typeof like === "string" && Object.hasOwn(feeds, like) ? feeds[like]! : null;
  }
}

const BLANK: BookFeed = {
  name: "", class: "", dm_pm: null, me_kj_kg: null, cp_ug_g: null, ndf_pm: null, ca_ug_g: null, p_ug_g: null,
  cp_eq_ug_g: null,
};

/** A class that was entered counts before the server has put it into the book, with the dry matter usual for it. */
function classed(ctx: Context, id: string, found: BookFeed | null): BookFeed | null {
  const { class: known, dm_pm } = found ?? BLANK;
  const of = known || class_of(ctx.view, id);
  if (!of || (known && dm_pm !== null)) return found;
  const usual = ctx.book.feeds[LIKES[of] ?? ""];
  return { ...(found ?? BLANK), class: of, dm_pm: dm_pm ?? usual?.dm_pm ?? null };
}

/** As it was entered for a feed, or the feed it is a lot of; "" where nobody said. */
function class_of({ feeds, lots }: View, id: string): string {
  const row = feeds[id] ?? feeds[String(lots[id]?.f["feed"])];
  const said = row?.f["class"];
  return typeof said === "string" ? said : "";
}

export function once<K, T>(memo: Map<K, T>, key: K, work: () => T): T {
  let found = memo.get(key);
  if (found === undefined) memo.set(key, (found = work()));
  return found;
}

/** Look-ups of a farm as it stands that are kept for as long as it is. */
export type Kept<T> = WeakMap<Context, Map<string, T>>;

export function once_in<T>(kept: Kept<T>, ctx: Context, key: string, work: () => T): T {
  const found = kept.get(ctx) ?? new Map<string, T>();
  kept.set(ctx, found);
  return once(found, key, work);
}

export function per_nutrient(): PerNutrient {
  return { me: 0, cp: 0, ca: 0, p: 0 };
}

/** Dates are worked with many thousand times a tap and are few. */
const DAYS = new Map<string, number>();
const DATES = new Map<number, string>();
const MOST_KEPT = 20_000;

export function shift(day: string, days: number): string {
  const number = number_of(day) + days;
  let found = DATES.get(number);
  if (found === undefined) DATES.set(number, (found = dateOf(number)));
  return found;
}

export function days_between(first: string, last: string): number {
  return number_of(last) - number_of(first);
}

export function number_of(day: string): number {
  if (DAYS.size > MOST_KEPT) DAYS.clear();
  return once(DAYS, day, () => dayOf(day));
}

function in_pens(does: Record<string, Doe>, on: string): Map<string, string[]> {
  const pens = new Map<string, string[]>();
  for (const id of Object.keys(does).sort(compareText)) if (!gone(does[id]!, on)) push(pens, pen_on(does[id]!, on), id);
  return pens;
}

function gone(doe: Doe, on: string): boolean {
  return doe.left_on !== "" && doe.left_on <= on;
}

function rations_asked(view: View): Map<string, Step[][]> {
  const asked = view.questions.filter(({ kind }) => kind === "ration");
  return new Map(asked.map(({ field, values }) => [field, values.map(({ value }) => value as Step[])]));
}

/** `before`: whose plan is the same there is not sorted anew. */
function by_subject(rations: View["rations"], before?: Context): Map<string, Ration[]> {
  const plans = new Map(before?.plans);
  const anew = before && other_plans(before.view.rations, rations);
  for (const subject of anew ?? []) plans.delete(subject);
  const keys = Object.keys(rations).filter((key) => !anew || anew.has(rations[key]!.subject));
  for (const key of keys.sort(compareText)) push(plans, rations[key]!.subject, rations[key]!);
  return plans;
}

/** Whose plan differs. */
function other_plans(before: View["rations"], after: View["rations"]): Set<string> {
  const found = new Set<string>();
  for (const key of Object.keys(after)) if (before[key] !== after[key]) found.add(after[key]!.subject);
  for (const key of Object.keys(before)) if (!Object.hasOwn(after, key)) found.add(before[key]!.subject);
  return found;
}

function by_day<T extends { on: string }>(rows: T[]): Map<string, T[]> {
  const days = new Map<string, T[]>();
  for (const row of rows) push(days, row.on, row);
  return days;
}

export function push<T>(map: Map<string, T[]>, key: string, item: T): void {
  const list = map.get(key);
  if (list) list.push(item);
  else map.set(key, [item]);
}
