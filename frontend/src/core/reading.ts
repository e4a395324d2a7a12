import { NO_BOOK, type Book } from "./book.ts";
import { CARD } from "./card.ts";
import { evaluated, unreadable } from "./evaluate.ts";
import type { Envelope } from "./events.ts";
import { extended, latest_of } from "./extend.ts";
import { fold } from "./fold.ts";
import type { Keeping } from "./keeping.ts";
import { Context } from "./outlook/context.ts";
import { isLocal, re_evaluated } from "./outlook/partial.ts";
import { manger_line, type MangerDay } from "./outlook/season.ts";
import type { Outlook, Results } from "./outlook/shapes.ts";
import type { View } from "./state/view.ts";

const MOST_EXTENDED = 20;

interface Folded {
  version: number;
  view: View;
  latest: Envelope | null;
}

interface Evaluated {
  version: number;
  outlooks_version: number;
  day: string;
  ctx: Context;
  results: Results;
}

/** View and results of what is kept, worked out once per change, and after a tap only as far as the tap reaches. */
export class Reading {
  readonly #keeping: Keeping;
  #folded: Folded | null = null;
  #evaluated: Evaluated | null = null;

  constructor(keeping: Keeping) {
    this.#keeping = keeping;
  }

  get view(): View {
    const { version } = this.#keeping.memory;
    if (this.#folded?.version !== version) this.#folded = this.#extended() ?? this.#fold();
    return this.#folded.view;
  }

  get book(): Book {
    return (this.#keeping.outlooks.get("") as Book | undefined) ?? NO_BOOK;
  }

  outlook(doe: string): Outlook | null {
    return (this.#keeping.outlooks.get(doe) as Outlook | undefined) ?? null;
  }

  results(day: string): Results {
    return this.#on(day).results;
  }

  context(day: string): Context {
    return this.#on(day).ctx;
  }

  season(doe: string, back_d: number, ahead_d: number, day: string): MangerDay[] {
    return manger_line(this.#on(day).ctx, doe, back_d, ahead_d);
  }

  #fold(): Folded {
    const { memory } = this.#keeping;
    const events = memory.counting();
    return { version: memory.version, view: fold(events), latest: latest_of(events) };
  }

  #extended(): Folded | null {
    const { memory } = this.#keeping;
    const added = this.#folded && memory.since(this.#folded.version);
    if (!this.#folded || !added || added.length > MOST_EXTENDED) return null;
    let { view, latest } = this.#folded;
    for (const event of added) {
      const more = extended(view, latest, event);
      if (more === null) return null;
      [view, latest] = [more, event];
    }
    return { version: memory.version, view, latest };
  }

  #on(day: string): Evaluated {
    const { memory, outlooks, outlooks_version } = this.#keeping;
    const held = this.#evaluated;
    const same = held !== null && held.outlooks_version === outlooks_version && held.day === day;
    if (same && held.version === memory.version) return held;
    const of_does = Object.fromEntries([...outlooks].filter(([doe]) => doe !== "" && doe !== CARD)) as Record<string, Outlook>;
    const ctx = new Context(this.view, of_does, this.book, day);
    const added = same ? memory.since(held.version) : null;
    const results = this.#worked(ctx, same && added?.every(isLocal) ? held.results : null, added ?? []);
    this.#evaluated = { version: memory.version, outlooks_version, day, ctx, results };
    return this.#evaluated;
  }

  /** A number this app needs and the book does not have means that one of them is too old, and nothing is guessed. */
  #worked(ctx: Context, before: Results | null, added: Envelope[]): Results {
    try {
      return before ? re_evaluated(ctx, before, added) : evaluated(ctx);
    } catch (error) {
      this.#keeping.note("not_evaluated", String(error));
      return unreadable(ctx);
    }
  }
}
