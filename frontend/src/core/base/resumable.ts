/** Work in steps that several may wait for: whoever asks takes it on from where it stands, and what it gave is kept. */
export class Resumable<T> {
  readonly #work: Generator<void, T>;
  #found: [T] | null = null;

  constructor(work: Generator<void, T>) {
    this.#work = work;
  }

  *steps(): Generator<void, T> {
    while (!this.#found) {
      const step = this.#work.next();
      if (step.done) this.#found = [step.value];
      else yield;
    }
    return this.#found[0];
  }
}
