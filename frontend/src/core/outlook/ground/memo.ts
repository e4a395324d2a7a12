/**
 * What was worked out once, kept by doe or pen and then by day: to glue one key out of the two costs more than to look
 * up twice.
 */
export class Memo<T> {
  readonly #kept = new Map<string, Map<string | number, T>>();

  once(of: string, at: string | number, work: () => T): T {
    let row = this.#kept.get(of);
    if (row === undefined) this.#kept.set(of, (row = new Map()));
    let found = row.get(at);
    if (found === undefined) row.set(at, (found = work()));
    return found;
  }

  /** What is kept of the days before one, for whoever goes on from there another way. */
  before(day: string): Memo<T> {
    const past = new Memo<T>();
    for (const [of, row] of this.#kept) past.#kept.set(of, new Map([...row].filter(([at]) => at < day)));
    return past;
  }

  /** Of one day, or of all of them. */
  forget(of: string, at?: string): void {
    if (at === undefined) this.#kept.delete(of);
    else this.#kept.get(of)?.delete(at);
  }
}

/** Up to a day what was, after it what is planned: days ahead on which every meal is eaten as planned. */
export class AsPlanned<T> extends Memo<T> {
  readonly #was: Memo<T>;
  readonly #planned: Memo<T>;
  readonly #day: string;

  constructor(was: Memo<T>, planned: Memo<T>, day: string) {
    super();
    [this.#was, this.#planned, this.#day] = [was, planned, day];
  }

  override once(of: string, at: string | number, work: () => T): T {
    return (at > this.#day ? this.#planned : this.#was).once(of, at, work);
  }
}
