/** Who is told when something that can be seen has changed. */
export class Listeners {
  readonly #all = new Set<() => void>();

  add(listener: () => void): () => void {
    this.#all.add(listener);
    return () => this.#all.delete(listener);
  }

  /** A screen that stumbles must not keep entries from coming in. */
  tell(stumbled: (error: unknown) => void): void {
    for (const listener of this.#all) {
      try {
        listener();
      } catch (error) {
        stumbled(error);
      }
    }
  }

  clear(): void {
    this.#all.clear();
  }
}
