import { NO_BOOK, type Book } from "./book.ts";
import { evaluated } from "./evaluate.ts";
import { fold } from "./fold.ts";
import type { Keeping } from "./keeping.ts";
import { Context } from "./outlook/context.ts";
import { manger_line, type MangerDay } from "./outlook/season.ts";
import type { Outlook, Results } from "./outlook/shapes.ts";
import type { View } from "./state/view.ts";

interface Evaluated {
  key: string;
  ctx: Context;
  results: Results;
}

/** View and results of what is kept, worked out once per change. */
export class Reading {
  readonly #keeping: Keeping;
  #view: { version: number; view: View } | null = null;
  #evaluated: Evaluated | null = null;

  constructor(keeping: Keeping) {
    this.#keeping = keeping;
  }

  get view(): View {
    const { memory } = this.#keeping;
    if (this.#view?.version !== memory.version) this.#view = { version: memory.version, view: fold(memory.counting()) };
    return this.#view.view;
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

  season(doe: string, back_d: number, ahead_d: number, day: string): MangerDay[] {
    return manger_line(this.#on(day).ctx, doe, back_d, ahead_d);
  }

  #on(day: string): Evaluated {
    const { memory, outlooks, outlooks_version } = this.#keeping;
    const key = `${memory.version}|${outlooks_version}|${day}`;
    if (this.#evaluated?.key !== key) {
      const of_does = Object.fromEntries([...outlooks].filter(([doe]) => doe !== "")) as Record<string, Outlook>;
      const ctx = new Context(this.view, of_does, this.book, day);
      this.#evaluated = { key, ctx, results: evaluated(ctx) };
    }
    return this.#evaluated;
  }
}
