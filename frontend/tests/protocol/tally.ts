/** Everything that is made to go wrong, by name. A run in which one of them never happened has proved nothing of it. */
export const FAULTS = [
  "request lost", "answer lost", "request doubled", "request delivered late", "old answer", "guest network",
  "server broken", "half an answer", "too large", "hands full", "hands full, waited", "app killed",
  "answer not taken in", "server killed", "server put back", "signed out", "clock off", "clock years off",
  "clock put right", "poison in the log", "role changed", "role changed in flight", "removed", "removed in flight",
  "came back", "handed in by somebody removed", "wiped", "let in", "worker's turn", "worker's turn in flight",
  "storage gone, app open", "storage gone in flight", "storage gone at start", "loss said", "phone taken over",
] as const;

export type Fault = (typeof FAULTS)[number];

/** How often each has happened. */
export class Tally {
  readonly #n = new Map<Fault, number>(FAULTS.map((fault) => [fault, 0]));

  add(fault: Fault, n = 1): void {
    this.#n.set(fault, this.#n.get(fault)! + n);
  }

  get never(): Fault[] {
    return FAULTS.filter((fault) => this.#n.get(fault) === 0);
  }

  get text(): string {
    return [...this.#n].map(([fault, n]) => `${fault} ${n}`).join(", ");
  }
}
