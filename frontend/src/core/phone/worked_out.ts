import { NO_BOOK, type Book } from "../outlook/ground/herd_figures.ts";
import { CARD, type HerdCard } from "../outlook/card.ts";
import { YEARS, type YearsDoc } from "../outlook/years.ts";
import type { Envelope } from "../events/events.ts";
import { tapped } from "../state/tapped.ts";
import { bring, brought } from "./bring.ts";
import type { Keeping } from "./keeping.ts";
import { Context } from "../outlook/ground/context.ts";
import type { Evaluation } from "../outlook/whole/evaluation.ts";
import type { MangerDay } from "../outlook/verdict/season.ts";
import type { Outlook } from "../outlook/ground/documents.ts";
import type { Picture } from "./picture.ts";
import type { View } from "../state/view.ts";

const MOST_EXTENDED = 20;
const DAYS_KEPT = 2;

interface Folded {
  version: number;
  view: View;
  latest: Envelope | null;
}

interface Evaluated {
  version: number;
  outlooks: number;
  evaluation: Evaluation;
}

/** View and results of what is kept, worked out once per change and only as far as the change reaches. */
export class WorkedOut {
  readonly #keeping: Keeping;
  #folded: Folded | null = null;
  /** Shown until everything has been read. */
  #picture: Picture | null = null;
  /** By day: the day that is being looked at, and yesterday's while a late look past midnight still belongs to it. */
  readonly #evaluated = new Map<string, Evaluated>();

  constructor(keeping: Keeping) {
    this.#keeping = keeping;
  }

  get view(): View {
    const { version } = this.#keeping.memory;
    if (this.#folded?.version !== version) this.#folded = this.#extended() ?? this.#still() ?? this.#fold();
    return this.#folded.view;
  }

  get latest(): Envelope | null {
    void this.view;
    return this.#folded!.latest;
  }

  get book(): Book {
    return this.#keeping.outlooks.get("") ?? this.#picture?.book ?? NO_BOOK;
  }

  outlook(doe: string): Outlook | null {
    return this.#keeping.outlooks.get(doe) ?? null;
  }

  get card(): HerdCard | null {
    return this.#keeping.outlooks.get(CARD) ?? null;
  }

  get years(): YearsDoc | null {
    return this.#keeping.outlooks.get(YEARS) ?? null;
  }

  season(doe: string, back_d: number, ahead_d: number, day: string): MangerDay[] {
    return brought()!.manger_line(this.on(day).ctx, doe, back_d, ahead_d);
  }

  show(picture: Picture): void {
    this.#picture = picture;
    this.#folded = { version: this.#keeping.memory.version, view: picture.view, latest: picture.latest };
  }

  /** Folds in steps, with rests between them. What it gives back makes the outcome the view, once its entries count. */
  async fold(events: Envelope[], rest: () => Promise<void>): Promise<() => void> {
    const { folding, latest_of } = await bring();
    const work = folding(events);
    let step = work.next();
    for (; !step.done; step = work.next()) await rest();
    const [view, latest] = [step.value, latest_of(events)];
    return () => {
      this.#folded = { version: this.#keeping.memory.version, view, latest };
      this.#picture = null;
    };
  }

  /** What the picture cannot take up is seen when everything has been read. */
  #still(): Folded | null {
    return this.#picture && this.#folded && { ...this.#folded, version: this.#keeping.memory.version };
  }

  #fold(): Folded {
    const { memory } = this.#keeping;
    const { fold, latest_of } = brought()!;
    const events = memory.counting();
    return { version: memory.version, view: fold(events), latest: latest_of(events) };
  }

  #extended(): Folded | null {
    const { memory } = this.#keeping;
    const added = this.#folded && memory.since(this.#folded.version);
    if (!this.#folded || !added || added.length > MOST_EXTENDED) return null;
    let { view, latest } = this.#folded;
    for (const event of added) {
      const more = this.#quickly(view, latest, event);
      if (more === null && this.#picture) continue;
      if (more === null) return null;
      [view, latest] = [more, event];
    }
    return { version: memory.version, view, latest };
  }

  /** Where the quick way stumbles, the long way knows what to set aside. */
  #quickly(view: View, latest: Envelope | null, event: Envelope): View | null {
    try {
      // of what stands in the picture nothing is there to be folded from
      const here = this.#picture ? null : brought();
      return here ? here.extended(view, latest, event, this.#keeping.memory) : tapped(view, latest, event);
    } catch (error) {
      this.#keeping.note("not_extended", String(error));
      return null;
    }
  }

  /** Nothing of it is judged yet but what stood before and still holds. */
  on(day: string): Evaluation {
    const { memory, outlooks } = this.#keeping;
    const held = this.#evaluated.get(day);
    const same = held?.outlooks === outlooks.version ? held : undefined;
    if (same?.version === memory.version) return same.evaluation;
    const added = same && memory.since(same.version);
    const evaluation = (added && same.evaluation.after(this.view, added, memory)) ?? this.#anew(day);
    this.#keep(day, { version: memory.version, outlooks: outlooks.version, evaluation });
    return evaluation;
  }

  #keep(day: string, evaluated: Evaluated): void {
    this.#evaluated.delete(day);
    if (this.#evaluated.size >= DAYS_KEPT) this.#evaluated.delete([...this.#evaluated.keys()][0]!);
    this.#evaluated.set(day, evaluated);
  }

  /** The farm on a day with nothing judged yet: there as soon as the picture is. */
  context(day: string): Context {
    const { outlooks } = this.#keeping;
    const of_does: Record<string, Outlook> = {};
    for (const doe of outlooks.names) {
      if (doe !== "" && doe !== CARD && doe !== YEARS)
        Object.defineProperty(of_does, doe, { enumerable: true, get: () => outlooks.get(doe) });
    }
    return new Context(this.view, of_does, this.book, day);
  }

  #anew(day: string): Evaluation {
    const { Evaluation } = brought()!;
    return new Evaluation(this.context(day), (error) => this.#keeping.note("not_evaluated", String(error)));
  }
}
