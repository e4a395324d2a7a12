import { browserEnv, type Env } from "../../core/base/env.ts";
import { Farm } from "../../core/phone/farm.ts";
import { databaseName, FarmStore } from "../../core/phone/store/farm_store.ts";
import type { Checked } from "../../core/phone/pin.ts";
import type { Seat } from "../../core/phone/store/rows.ts";
import { bornsOf } from "../../core/phone/store/connection.ts";
import type { Left } from "../../core/phone/store/wipe.ts";
import { Phone, type Known, type LastUse } from "../../core/phone/store/phone.ts";
import { Session, type FarmEntry } from "../../core/phone/sync/session.ts";
import { dismiss, notices, tell_lost, waited, type Notice } from "../../core/phone/waits.ts";
import { pageHand, pageMarks } from "./marks.ts";

const NOBODY: Known = { last: null, users: [], device: undefined, seats: [] };
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
  readonly env: Env = { ...browserEnv(), marks: pageMarks, hand: pageHand };
  readonly session = new Session(this.env);
  readonly #phone = new Phone(this.env);
  person: Person | null = null;
  farms: FarmEntry[] = [];
  /** Everybody who has signed in on this phone and not out again. */
  users: LastUse[] = [];
  /** Of them, as the server last said: whether a PIN is asked for. */
  #seats: Seat[] = [];
  #last: LastUse | null = null;
  #ahead: FarmStore | null = null;
  #device: string | undefined;

  /** Opens on the last farm without asking the network. */
  async lastFarm(): Promise<FarmEntry | null> {
    // Who it was is asked of the phone; meanwhile their farm is opened on the chance that it is still the same.
    const hint = localStorage.getItem(LAST)?.split(" ");
    if (hint) this.#ahead = new FarmStore(hint[0]!, hint[1]!, this.env).lookAhead();
    const known = await this.#phone.known().catch(() => NOBODY);
    [this.#last, this.users, this.#device, this.#seats] = [known.last, known.users, known.device, known.seats];
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
    const taken = this.#take();
    if (taken) await this.#phone.tried(this.person!.id, 0).catch(() => undefined);
    return taken ? { ok: true } : { ok: false, why: "sign_in" };
  }

  asksPin(person: string): boolean {
    return this.#seats.some(({ id, pin }) => id === person && Boolean(pin));
  }

  async checkPin(person: string, digits: string): Promise<Checked> {
    const seat = this.#seats.find(({ id }) => id === person);
    const { check_pin } = await import("../../core/phone/pin.ts");
    const checked = await check_pin(this.env, this.#phone, seat ?? { id: person, name: "", pin: null }, digits);
    if (checked.kind === "right") this.session.holdPin(person, digits);
    return checked;
  }

  /** Whoever is told of it: entries that waited in a database that is another one by now. */
  async lookForLost(): Promise<void> {
    for (const at of waited(this.env)) tell_lost(this.env, at, await bornsOf(at, this.env).catch(() => null));
  }

  get notices(): Notice[] {
    return notices(this.env);
  }

  /** Read; and of what she may not send any more, nothing stays. */
  dismiss(notice: Notice): void {
    dismiss(this.env, notice);
    const { what, person, farm } = notice;
    if (what === "removed") void this.#wipe({ person, farms: [farm], of_others: [farm] });
  }

  async #wipe(left: Left): Promise<void> {
    const { wipe_person } = await import("../../core/phone/store/wipe.ts");
    await wipe_person(this.env, left, false);
  }

  /** What could not be handed in of a farm that she is on no more. */
  async leftAsFile({ person, who, farm, farm_name }: Notice): Promise<string> {
    const { to_file } = await import("../../core/phone/carried.ts");
    const store = new FarmStore(person, farm, this.env);
    const rows = await store.unsent().finally(() => store.close());
    return to_file(rows.map(({ text }) => text), { farm, farm_name, person, who, at: this.env.now() });
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
      ...(store && { store }), env: this.env,
      person: person.id, farmId: entry.id, zone: entry.zone, session: this.session, after, early: back,
      ...(this.#device && { device: this.#device }),
      sharers: sharers.map((use) => use.person.id), names: { who: person.name, farm_name: entry.name },
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

  /** On a farm no more: it is none of hers on this phone either. */
  async leaveFarm(farm: string): Promise<void> {
    this.farms = this.farms.filter(({ id }) => id !== farm);
    if (this.person) await this.#remember({ person: this.person, farms: this.farms, farm: "" });
    localStorage.removeItem(LAST);
    const others = this.users.filter((use) => use.person.id !== this.person?.id);
    if (others.some(({ farms }) => farms.some(({ id }) => id === farm))) return;
    const { hand_in_pictures } = await import("../../core/phone/handed_in.ts");
    await hand_in_pictures(this.session, this.env, farm);
    const { wipe_pictures } = await import("../../core/phone/store/wipe.ts");
    await wipe_pictures(this.env, farm);
  }

  /**
   * Forgets who was here, and every farm of hers: all of it, or all but what she recorded and wants to send when she is
   * back. Without signal the server is told at the next start.
   */
  async signOut(keep_waiting: boolean): Promise<void> {
    const person = this.person?.id ?? "";
    const others = this.users.filter((use) => use.person.id !== person);
    const of_others = others.flatMap(({ farms }) => farms.map(({ id }) => id));
    const farms = [...this.farms, ...this.users.flatMap((use) => (use.person.id === person ? use.farms : []))];
    const left = { person, farms: [...new Set(farms.map(({ id }) => id))], of_others };
    const { forgetPerson } = await import("./forget.ts");
    await forgetPerson(this.env, left, keep_waiting, others.length === 0);
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
    this.#seats = facts.seats?.map(({ id, name, verifier: pin }) => ({ id, name, pin })) ?? this.#seats;
    void this.#phone.keepSeats(this.#seats).catch(() => undefined);
    return true;
  }
}
