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

  /** From a day on, where days are kept by their date. */
  forget_since(of: string, from: string): void {
    const row = this.#kept.get(of);
    for (const at of row?.keys() ?? []) if (at >= from) row!.delete(at);
  }

  /** Of one day, or of all of them. */
  forget(of: string, at?: string): void {
    if (at === undefined) this.#kept.delete(of);
    else this.#kept.get(of)?.delete(at);
  }
}

/** Before a day what was, after it what is planned: days ahead on which every meal is eaten as planned. */
export class AsPlanned<T> extends Memo<T> {
  readonly #was: Memo<T>;
  readonly #planned: Memo<T>;
  readonly #day: string | number;

  /** `was`: shared with the farm as it is, since nothing that is planned moves the past. */
  constructor(was: Memo<T>, planned: Memo<T>, day: string | number) {
    super();
    [this.#was, this.#planned, this.#day] = [was, planned, day];
  }

  override once(of: string, at: string | number, work: () => T): T {
    if (at === this.#day) return super.once(of, at, work);
    return (at > this.#day ? this.#planned : this.#was).once(of, at, work);
  }
}

/** Of some worked anew, of all others what was: a change in the plan of one leaves every other as it stands. */
export class OfSome<T> extends Memo<T> {
  readonly #was: Memo<T>;
  readonly #anew: Set<string>;

  constructor(was: Memo<T>, anew: Iterable<string>) {
    super();
    [this.#was, this.#anew] = [was, new Set(anew)];
  }

  override once(of: string, at: string | number, work: () => T): T {
    return this.#anew.has(of) ? super.once(of, at, work) : this.#was.once(of, at, work);
  }
}
