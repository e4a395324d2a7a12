import type { Dice } from "../support/random.ts";
import type { Handset } from "./handset.ts";
import type { Owed } from "./recording.ts";
import type { Server } from "./server.ts";
import type { Fault, Tally } from "./tally.ts";

type Emptying = "storage gone in flight" | "storage gone, app open" | "storage gone at start";

interface Parts {
  server: Server;
  dice: Dice;
  tally: Tally;
  farm: string;
  /** The first is the owner. */
  people: string[];
  saved: ReadonlyMap<string, Owed>;
}

/** What happens beside the phones: to people's places on the farm, in its owner's list, at the worker, in storage. */
export class Trouble {
  /** On the farm no more. */
  gone = "";
  /** What waited in storage when it was emptied. */
  readonly emptied = new Map<Handset, Set<string>>();
  /** Answered in the moment a page was killed, and not yet crossed off outside storage when that was emptied. */
  readonly beside = new Map<Handset, number>();
  /** Answered once, gone with a server that was put back, and then with storage that would have offered it again. */
  readonly doubly_gone = new Set<string>();
  /** A backup nobody has lost anything after that no phone could offer again. */
  backup = "";
  readonly #parts: Parts;

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  /** While a request of that phone is on its way. */
  async meanwhile(phone: Handset): Promise<void> {
    const at = this.#parts.dice.below(7);
    if (at < 2) return this.changeRole("role changed in flight");
    if (at < 4) return this.#removed("removed in flight");
    if (at < 5) return this.work("worker's turn in flight");
    if (at < 6) return this.empty(phone, "storage gone in flight");
    return this.letIn();
  }

  /** For a while somebody may only read, or help: what is refused meanwhile must not be forgotten. */
  async changeRole(as: Fault = "role changed"): Promise<void> {
    const { dice } = this.#parts;
    await this.promote();
    const person = this.#other();
    if (person === this.gone) return;
    await this.#ask("role", { person, role: dice.pick(["adviser", "helper"]) });
    this.#parts.tally.add(as);
  }

  async promote(): Promise<void> {
    const [owner, ...others] = this.#parts.people;
    await this.#ask("role", { person: owner, role: "owner" });
    for (const person of others) await this.#ask("role", { person, role: "family" });
  }

  /** Put out, or taken in again. */
  async place(): Promise<void> {
    return this.gone ? this.takeBack() : this.#removed("removed");
  }

  async #removed(as: Fault): Promise<void> {
    if (this.gone) return;
    const { dice, tally } = this.#parts;
    this.gone = this.#other();
    tally.add(as);
    // What she hands in from here on no phone has any more: the server must not be put back behind it.
    this.backup = "";
    await this.#ask("remove", { person: this.gone, role: dice.pick(["family", "family", "helper"]) });
  }

  async takeBack(): Promise<void> {
    await this.#ask("come_back", { person: this.gone });
    this.#parts.tally.add("came back");
    [this.gone, this.backup] = ["", ""];
  }

  async letIn(all = false): Promise<void> {
    const seed = all ? 0 : 1 + this.#parts.dice.below(2 ** 30);
    this.#parts.tally.add("let in", await this.#ask<number>("let_in", { seed }));
  }

  async work(as: Fault = "worker's turn"): Promise<void> {
    this.#parts.tally.add(as);
    await this.#ask("work");
  }

  async empty(phone: Handset, as: Emptying): Promise<void> {
    const waited = this.emptied.get(phone) ?? new Set();
    this.emptied.set(phone, waited);
    const held = new Set<string>();
    for (const person of phone.people) {
      if (await phone.holds(person)) for (const id of await phone.waiting(person)) held.add(id);
    }
    for (const id of held) waited.add(id);
    if (phone.cut_off) this.beside.set(phone, (this.beside.get(phone) ?? 0) + Math.max(0, phone.marked - held.size));
    const known = new Set(await this.#ask<string[]>("known"));
    for (const [id, owed] of this.#parts.saved) {
      if (owed.phone !== phone || known.has(id) || held.has(id)) continue;
      // What an earlier emptying left in memory may have been sent since.
      if (!waited.has(id) || phone.network.heard.has(id)) this.doubly_gone.add(id);
    }
    this.backup = "";
    this.#parts.tally.add(as);
    if (as === "storage gone at start") phone.gone();
    else await phone.emptied();
  }

  #other(): string {
    return this.#parts.dice.pick(this.#parts.people.slice(1));
  }

  #ask<T>(name: string, given: Record<string, unknown> = {}): Promise<T> {
    return this.#parts.server.ask<T>(name, { farm: this.#parts.farm, ...given });
  }
}
