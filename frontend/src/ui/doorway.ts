import { browserEnv, type Env } from "../core/env.ts";
import { Farm } from "../core/farm.ts";
import { Phone } from "../core/store/phone.ts";
import type { Reply } from "../core/sync/http.ts";
import { Session, type FarmEntry } from "../core/sync/session.ts";

export type Outcome = { ok: true } | { ok: false; why: string };
export interface Person {
  id: string;
  name: string;
}

const LEAVING = "mangerline.leaving";

/** Who is at this phone and which farm is open: signing in and out, remembering, opening. */
export class Doorway {
  readonly env: Env = browserEnv();
  readonly session = new Session(this.env);
  readonly #phone = new Phone(this.env);
  person: Person | null = null;
  farms: FarmEntry[] = [];

  /** Opens on the last farm without asking the network. */
  async lastFarm(): Promise<FarmEntry | null> {
    const use = await this.#phone.lastUse().catch(() => null);
    if (!use) return null;
    [this.person, this.farms] = [use.person, use.farms];
    return use.farms.find(({ id }) => id === use.farm) ?? null;
  }

  /** A sign-out begun without signal is finished here before anything else is asked. */
  async signedIn(): Promise<boolean> {
    if (localStorage.getItem(LEAVING) && (await this.session.signOut()).ok) localStorage.removeItem(LEAVING);
    await this.session.refresh();
    return this.#take();
  }

  async signIn(name: string, password: string): Promise<Outcome> {
    const reply = await this.session.signIn(name, password);
    if (!reply.ok) return { ok: false, why: reply.failure.code || reply.failure.kind };
    localStorage.removeItem(LEAVING);
    return this.#take() ? { ok: true } : { ok: false, why: "sign_in" };
  }

  async createFarm(name: string, zone: string): Promise<Outcome> {
    const reply = await this.session.createFarm(name, zone);
    if (!reply.ok) return { ok: false, why: reply.failure.code || reply.failure.kind };
    await this.session.refresh();
    this.#take();
    return { ok: true };
  }

  async open(entry: FarmEntry): Promise<Farm> {
    const person = this.person!;
    const farm = await Farm.open({ person: person.id, farmId: entry.id, zone: entry.zone, session: this.session });
    await this.#phone.remember({ person, farms: this.farms, farm: entry.id }).catch(() => undefined);
    return farm;
  }

  /** Forgets who was here. Without signal the server is told at the next start. */
  async signOut(): Promise<Reply> {
    await this.#phone.remember(null).catch(() => undefined);
    localStorage.setItem(LEAVING, "1");
    const reply = await this.session.signOut();
    if (reply.ok) localStorage.removeItem(LEAVING);
    [this.person, this.farms] = [null, []];
    return reply;
  }

  #take(): boolean {
    const facts = this.session.facts;
    if (!facts?.person) return false;
    [this.person, this.farms] = [facts.person, facts.farms];
    return true;
  }
}
