interface Timer {
  run: () => void;
  at: number;
  ms: number;
}

/** A phone's own timers, which move only when the phone is left to itself. */
export class Timers {
  elapsed_ms = 0;
  readonly #all = new Set<Timer>();

  readonly set = (run: () => void, ms: number): Timer => {
    const timer = { run, ms, at: this.elapsed_ms + ms };
    this.#all.add(timer);
    return timer;
  };

  readonly clear = (timer: unknown): void => void this.#all.delete(timer as Timer);

  forget(): void {
    this.#all.clear();
  }

  /** One after the other, each awaited before the next is looked for. */
  async pass(ms: number, ran: () => Promise<unknown>): Promise<void> {
    const until = this.elapsed_ms + ms;
    for (;;) {
      const due = [...this.#all].filter(({ at }) => at <= until).sort((a, b) => a.at - b.at)[0];
      if (!due) break;
      this.#all.delete(due);
      this.elapsed_ms = Math.max(this.elapsed_ms, due.at);
      due.run();
      await ran();
    }
    this.elapsed_ms = until;
  }
}
