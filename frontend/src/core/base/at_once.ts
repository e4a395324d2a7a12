/** Runs work that was written in steps, without the breaths in between. */
export function at_once<T>(work: Generator<unknown, T>): T {
  for (;;) {
    const { done, value } = work.next();
    if (done) return value;
  }
}
