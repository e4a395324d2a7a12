import { browserEnv, type Env } from "../../core/base/env.ts";
import { Farm } from "../../core/phone/farm.ts";
import { databaseName, FarmStore } from "../../core/phone/store/farm_store.ts";
import { Phone, type LastUse } from "../../core/phone/store/phone.ts";
import { Session, type FarmEntry } from "../../core/phone/sync/session.ts";

export type Outcome = { ok: true } | { ok: false; why: string };
export interface Person {
  id: string;
  name: string;
}

const LEAVING = "mangerline.leaving";
/** Whose farm was open last, as a hint alone. */
const LAST = "mangerline.last";

/** Who is at this phone and which farm is open: signing in and out, remembering, opening. */
export class Doorway {
  readonly env: Env = browserEnv();
  readonly session = new Session(this.env);
  readonly #phone = new Phone(this.env);
  person: Person | null = null;
  farms: FarmEntry[] = [];
  /** Everybody who has signed in on this phone and not out again. */
  users: LastUse[] = [];
  #last: LastUse | null = null;
  #ahead: FarmStore | null = null;
  #device: string | undefined;

  /** Opens on the last farm without asking the network. */
  async lastFarm(): Promise<FarmEntry | null> {
    // Who it was is asked of the phone; meanwhile their farm is opened on the chance that it is still the same.
    const hint = localStorage.getItem(LAST)?.split(" ");
    if (hint) this.#ahead = new FarmStore(hint[0]!, hint[1]!, this.env).lookAhead();
    const known = await this.#phone.known().catch(() => ({ last: null, users: [], device: undefined }));
    [this.#last, this.users, this.#device] = [known.last, known.users, known.device];
    const use = this.#last;
    if (!use) return null;
    [this.person, this.farms] = [use.person, use.farms];
    return use.farms.find(({ id }) => id === use.farm) ?? null;
  }

  /** A sign-out begun without signal is finished here before anything else is asked. */
  async signedIn(): Promise<boolean> {
    await this.#leave();
    await this.session.refresh();
    return this.#take();
  }

  async signIn(name: string, password: string): Promise<Outcome> {
    await this.#leave();
    const reply = await this.session.signIn(name, password);
    if (!reply.ok) return { ok: false, why: reply.failure.code || reply.failure.kind };
    return this.#take() ? { ok: true } : { ok: false, why: "sign_in" };
  }

  /**
   * `after`: who had the phone until now, and has seen more of the farm than its new user. Whoever comes back to the
   * farm they had open is shown it before all of it is there.
   */
  async open(entry: FarmEntry, after = ""): Promise<Farm> {
    const person = this.person!;
    const back = this.#last?.person.id === person.id && this.#last.farm === entry.id && this.#last.farms === this.farms;
    const sharers = this.users.filter(
      (use) => use.person.id !== person.id && use.farms.some(({ id }) => id === entry.id),
    );
    const store = this.#ahead?.name === databaseName(person.id, entry.id) ? this.#ahead : undefined;
    if (!store) this.#ahead?.close();
    this.#ahead = null;
    const farm = await Farm.open({
      ...(store && { store }),
      person: person.id, farmId: entry.id, zone: entry.zone, session: this.session, after, early: back,
      ...(this.#device && { device: this.#device }),
      sharers: sharers.map((use) => use.person.id),
    });
    localStorage.setItem(LAST, `${person.id} ${entry.id}`);
    if (!back) await this.#remember({ person, farms: this.farms, farm: entry.id });
    return farm;
  }

  async #remember(use: LastUse): Promise<void> {
    this.#last = use;
    await this.#phone.remember(use).catch(() => undefined);
    await this.#meet();
  }

  /** Another one of this phone's people is on now: no password in the barn. The farm the two share, if there is one. */
  takeOver({ person, farms, farm }: LastUse, shared = ""): FarmEntry | undefined {
    [this.person, this.farms] = [person, farms];
    return farms.find(({ id }) => id === shared) ?? farms.find(({ id }) => id === farm) ?? farms[0];
  }

  /** Forgets who was here. Without signal the server is told at the next start. */
  async signOut(): Promise<void> {
    const person = this.person?.id ?? "";
    await this.#phone.forget(person).catch(() => undefined);
    localStorage.setItem(LEAVING, person);
    localStorage.removeItem(LAST);
    [this.person, this.farms, this.#last] = [null, [], null];
    await this.#meet();
    await this.#leave();
  }

  async #leave(): Promise<void> {
    const person = localStorage.getItem(LEAVING);
    if (person !== null && (await this.session.signOut(person)).ok) localStorage.removeItem(LEAVING);
  }

  async #meet(): Promise<void> {
    this.users = await this.#phone.users().catch(() => this.users);
  }

  #take(): boolean {
    const facts = this.session.facts;
    if (!facts?.person) return false;
    [this.person, this.farms] = [facts.person, facts.farms];
    return true;
  }
}
