import type { Book, BookFeed } from "../book.ts";
import { addDays, dayOf } from "../days.ts";
import { compareText } from "../order.ts";
import { pen_on } from "../state/doe_state.ts";
import type { Doe, Feeding, Intake, Ration, Step, View } from "../state/view.ts";
import type { Nutrient, Outlook, PerNutrient, Sums, Window } from "./shapes.ts";
import type { Eaten, Lines } from "./sharing.ts";
import type { Slot } from "./branches.ts";

export const SLOTS = ["morning", "midday", "evening", "late"] as const;
export const NUTRIENTS: readonly Nutrient[] = ["me", "cp", "ca", "p"];
export const SCHEMA = 1;

/** The farm as known on one phone on one day, and look-ups made once. Holds no biology. Twin of herd/outlook/context.py. */
export class Context {
  readonly view: View;
  readonly outlooks: Record<string, Outlook>;
  readonly book: Book;
  readonly day: string;
  readonly rules: Record<string, number>;
  readonly feedings = new Map<string, Feeding[]>();
  readonly intakes = new Map<string, Intake[]>();
  readonly plans = new Map<string, Ration[]>();
  readonly asked: Map<string, Step[][]>;
  readonly shares = new Map<string, Record<string, Eaten>>();
  readonly memo = {
    mates: new Map<string, string[]>(), lines: new Map<string, Lines>(), slot: new Map<string, Slot | null>(),
    milk: new Map<string, number>(), weighed: new Map<string, Map<string, number>>(), window: new Map<string, Window>(),
    sums: new Map<string, Sums | null>(), confirmed: new Map<string, boolean>(),
  };

  constructor(view: View, outlooks: Record<string, Outlook>, book: Book, day: string) {
    this.view = view;
    this.outlooks = outlooks;
    this.book = book;
    this.day = day;
    this.rules = book.rules;
    for (const feeding of view.feedings) push(this.feedings, feeding.on, feeding);
    for (const intake of view.intakes) push(this.intakes, intake.on, intake);
    for (const key of Object.keys(view.rations).sort(compareText)) {
      push(this.plans, view.rations[key]!.subject, view.rations[key]!);
    }
    const asked = view.questions.filter(({ kind }) => kind === "ration");
    this.asked = new Map(asked.map(({ field, values }) => [field, values.map(({ value }) => value as Step[])]));
  }

  doe(id: string): Doe {
    return this.view.does[id]!;
  }

  rule(name: string): number {
    const value = this.rules[name];
    if (value === undefined) throw new RangeError(`no herd rule ${name}`);
    return value;
  }

  /** Still in the herd. */
  here(id: string): boolean {
    return !this.doe(id).left_on;
  }

  /** Does in a pen on a date, sorted by id; a doe in no pen is worked as a pen of her own. */
  pen_mates(pen: string, on: string): string[] {
    return once(this.memo.mates, `${pen}|${on}`, () => {
      const { does } = this.view;
      if (Object.hasOwn(does, pen)) return [pen];
      if (!pen) return [];
      const ids = Object.keys(does).filter((id) => pen_on(does[id]!, on) === pen && !gone(does[id]!, on));
      return ids.sort(compareText);
    });
  }

  /** Composition per kg dry matter: the lot's own, or of the feed it is a lot of, or null when unknown. */
  feed(id: string): BookFeed | null {
    const { feeds } = this.book;
    if (Object.hasOwn(feeds, id)) return feeds[id]!;
    const lot = this.view.lots[id] ?? this.view.feeds[id];
    const like = lot ? lot.f["feed"] || lot.f["like"] || "" : "";
    return typeof like === "string" && Object.hasOwn(feeds, like) ? feeds[like]! : null;
  }
}

export function once<T>(memo: Map<string, T>, key: string, work: () => T): T {
  let found = memo.get(key);
  if (found === undefined) memo.set(key, (found = work()));
  return found;
}

export function per_nutrient(): PerNutrient {
  return { me: 0, cp: 0, ca: 0, p: 0 };
}

const DAYS = new Map<string, number>();
const SHIFTED = new Map<string, string>();
const MOST_KEPT = 20_000;

export function shift(day: string, days: number): string {
  return kept(SHIFTED, `${day}${days}`, () => addDays(day, days));
}

export function days_between(first: string, last: string): number {
  return number_of(last) - number_of(first);
}

function number_of(day: string): number {
  return kept(DAYS, day, () => dayOf(day));
}

/** Dates are worked with many thousand times a tap and are few. */
function kept<T>(memo: Map<string, T>, key: string, work: () => T): T {
  if (memo.size > MOST_KEPT) memo.clear();
  return once(memo, key, work);
}

function gone(doe: Doe, on: string): boolean {
  return doe.left_on !== "" && doe.left_on <= on;
}

function push<T>(map: Map<string, T[]>, key: string, item: T): void {
  const list = map.get(key);
  if (list) list.push(item);
  else map.set(key, [item]);
}

