import { IDBFactory } from "fake-indexeddb";
import type { Farm } from "../../src/core/phone/farm.ts";
import { newDeviceId } from "../../src/core/base/ids.ts";
import { databaseName, FarmStore } from "../../src/core/phone/store/farm_store.ts";
import { deleted } from "../../src/core/phone/store/room.ts";
import type { Env } from "../../src/core/base/env.ts";
import type { Ended } from "../../src/core/phone/sync/ended.ts";
import { notices, type Notice } from "../../src/core/phone/waits.ts";
import { TODAY, type Build } from "./builds.ts";
import { Channels } from "./channels.ts";
import { TestPhone } from "../support/phone.ts";
import type { Dice } from "../support/random.ts";
import { Life } from "./life.ts";
import type { Mutant } from "./mutants.ts";
import { Jar, Network, type Faults, type Page } from "./network.ts";
import type { Server } from "./server.ts";
import type { Tally } from "./tally.ts";
import { Timers } from "./timers.ts";

export interface Place {
  farm: string;
  zone: string;
  server: Server;
  dice: Dice;
  faults: Faults;
  mutant: Mutant;
  tally: Tally;
  meanwhile: (phone: Handset) => Promise<void>;
}

const CRASH_CHANCE = 0.01;
const STUMBLE_CHANCE = 0.02;
const TABS = [0, 1];

/**
 * A phone in somebody's pocket: storage that outlives the app, a clock that is wrong, cookies, and a signal of sorts.
 */
export class Handset {
  readonly network: Network;
  readonly jar = new Jar();
  readonly device: string;
  readonly timers = new Timers();
  offset_ms = 0;
  /** The app that is opened next. */
  build: Build = TODAY;
  life: Life;
  person = "";
  /** Killed in the middle of something, and not opened since. */
  cut_off = false;
  /** Whoever has signed in on it, the last one last. */
  readonly people: string[] = [];
  readonly #place: Place;
  readonly #storage: TestPhone;
  readonly #channels = new Channels();
  readonly #opened = new Map<string, Farm>();
  readonly #runs = new Map<Farm, Promise<Ended>>();
  readonly #stores = new Map<Farm, FarmStore>();
  readonly #pages = new Set<Page>();
  #after = "";

  constructor(place: Place) {
    this.#place = place;
    const { server, dice, faults, tally } = place;
    this.#storage = new TestPhone(dice.below(2 ** 31));
    this.device = newDeviceId((n) => dice.bytes(n));
    const meanwhile = () => place.meanwhile(this);
    this.network = new Network({ server, jar: this.jar, dice, faults, tally, timers: this.timers, meanwhile });
    this.life = this.#newLife();
  }

  #newLife(): Life {
    return new Life(this.#place.dice, () => this.#place.tally.add("answer not taken in"));
  }

  now(): number {
    return Date.now() + this.offset_ms;
  }

  /** Her password, on a browser where the others keep their seats. */
  async signIn(person: string): Promise<void> {
    const last = this.person;
    this.person = person;
    if (!this.people.includes(person)) this.people.push(person);
    const seat = { person, browser: this.device, seated: this.people };
    this.jar.set("mangerline_session", await this.#place.server.ask<string>("session", seat));
    if (last && last !== person) await this.#takenOver(last);
    // Each page asks anew who is signed in; an old page must find out by itself.
  }

  async #takenOver(last: string): Promise<void> {
    const { tally, mutant, farm } = this.#place;
    tally.add("phone taken over");
    this.#after = last;
    this.shut(last);
    await mutant.onTakenOver?.(new FarmStore(last, farm, this.#env(this.life)));
  }

  /** Her pages are closed; the phone stays on. */
  shut(person: string): void {
    for (const tab of TABS) {
      const farm = this.#opened.get(`${person}/${tab}`);
      farm?.close();
      this.#opened.delete(`${person}/${tab}`);
    }
  }

  /** The app of whoever holds the phone, opened if it is not. */
  async farm(person = this.person, tab = 0): Promise<Farm> {
    const key = `${person}/${tab}`;
    const held = this.#opened.get(key);
    if (held) return held;
    const opened = await Promise.race([this.#open(person), this.life.died]);
    if (opened === "died") {
      this.#ends();
      return this.farm(person, tab);
    }
    this.#opened.set(key, opened);
    this.cut_off = false;
    return opened;
  }

  get open(): Farm[] {
    return [...this.#opened.values()];
  }

  /** The process ends: memory is gone, storage stays as it is. */
  crash(): void {
    this.life.end();
    this.timers.forget();
    this.#channels.end();
    for (const farm of this.#opened.values()) farm.close();
    this.#opened.clear();
    this.life = this.#newLife();
    this.#pages.clear();
  }

  #ends(): void {
    this.#place.tally.add("app killed");
    this.crash();
    this.cut_off = true;
  }

  /** What the word outside the databases says waits in them. */
  get marked(): number {
    const text = this.#env(this.life).marks!.read() || "{}";
    const { waits = {} } = JSON.parse(text) as { waits?: Record<string, { n: number }> };
    return Object.values(waits).reduce((sum, { n }) => sum + n, 0);
  }

  /** At somebody's word, who need not wait for what the page was told. */
  async sync(farm: Farm): Promise<Ended | "died"> {
    for (const page of this.#pages) page.held_until_ms = 0;
    this.#risks();
    return this.#ended(farm, await Promise.race([this.#run(farm), this.life.died]));
  }

  /** From the first time on the phone tries by itself, as the page has it. */
  #run(farm: Farm): Promise<Ended> {
    if (this.#runs.has(farm)) return farm.schedule.now();
    const { schedule } = farm;
    const now = schedule.now.bind(schedule);
    schedule.now = () => {
      const run = now();
      this.#runs.set(farm, run);
      return run;
    };
    schedule.start();
    return this.#runs.get(farm)!;
  }

  #risks(): void {
    this.life.crash_chance = this.network.fair ? 0 : CRASH_CHANCE;
    this.life.stumble_chance = this.network.fair || this.#place.mutant.sure_footed ? 0 : STUMBLE_CHANCE;
  }

  async #ended(farm: Farm, ended: Ended | "died"): Promise<Ended | "died"> {
    [this.life.crash_chance, this.life.stumble_chance] = [0, 0];
    if (ended === "died") this.#ends();
    else if (ended.kind === "locked") await this.#place.mutant.onLocked?.(this.#stores.get(farm)!);
    else if (ended.kind === "removed") await this.#left(farm);
    return ended;
  }

  async #left({ person }: Farm): Promise<void> {
    this.#place.tally.add("wiped");
    this.shut(person);
    if (await this.#fetched(person)) this.network.problems.push("left behind: the farm, after a wipe");
  }

  async #fetched(person: string): Promise<boolean> {
    return this.#storeOf(person, async (store) => (await store.load()).meta.epoch !== undefined);
  }

  /** The phone lies there for a while: what it does now it does by itself. */
  async pass(ms: number): Promise<void> {
    const { timers } = this;
    const held = [...this.#pages].some(({ held_until_ms }) => held_until_ms > timers.elapsed_ms);
    if (held) this.#place.tally.add("hands full, waited");
    await timers.pass(ms, async () => {
      this.#risks();
      for (const farm of this.open) {
        const run = this.#runs.get(farm);
        if (run) await this.#ended(farm, await Promise.race([run, this.life.died]));
      }
      await new Promise((next) => setTimeout(next, 5));
    });
    // What another page does beside those that were waited for may have ended it too.
    if (this.life.dead) this.#ends();
    [this.life.crash_chance, this.life.stumble_chance] = [0, 0];
  }

  /** Those of hers that storage alone has. */
  waiting(person: string): Promise<string[]> {
    return this.#storeOf(person, async (store) => (await store.only_here()).map(({ id }) => id));
  }

  async #storeOf<T>(person: string, work: (store: FarmStore) => Promise<T>): Promise<T> {
    const store = new FarmStore(person, this.#place.farm, this.#env(this.life));
    try {
      return await work(store);
    } finally {
      store.close();
    }
  }

  /** A browser short of room empties everything, under the open app. */
  async emptied(): Promise<void> {
    for (const { name } of await this.#storage.factory.databases()) {
      await deleted({ indexedDB: this.#storage.factory }, name!);
    }
  }

  /** The same while the app is closed; what is kept outside the databases stays. */
  gone(): void {
    this.crash();
    this.#storage.factory = new IDBFactory();
  }

  get said(): Notice[] {
    return notices(this.#env(this.life));
  }

  /** Anything of the farm in her name: whoever looks for what she left makes an empty database. */
  async holds(person: string): Promise<boolean> {
    const names = (await this.#storage.factory.databases()).map(({ name }) => name);
    if (!names.includes(databaseName(person, this.#place.farm))) return false;
    const { events, outbox, outlooks, meta } = await this.#storeOf(person, (store) => store.load());
    return events.length + outbox.length + outlooks.length > 0 || meta.epoch !== undefined;
  }

  #env(life: Life): Env {
    const { mutant } = this.#place;
    const page: Page = { held_until_ms: 0 };
    this.#pages.add(page);
    const env = this.#storage.env({
      now: () => this.now(), fetch: (path, init) => this.#reach(life, page, path, init), channel: this.#channels.open,
      setTimer: this.timers.set, clearTimer: this.timers.clear,
    });
    return mutant.env?.(env) ?? env;
  }

  async #open(person: string): Promise<Farm> {
    const { life } = this;
    const { mutant, farm: farmId, zone } = this.#place;
    let plain: FarmStore | null = null;
    const store = (real: FarmStore) => {
      plain = real;
      return life.over(mutant.store?.(real, life) ?? real);
    };
    const env = this.#env(life);
    const parts = { store, ...(mutant.clock && { clock: () => mutant.clock!(this.device) }) };
    const after = this.#after === person ? "" : this.#after;
    const shared = { sharers: this.people.filter((other) => other !== person), after };
    const farm = await this.build.open({ person, farmId, zone, device: this.device, env, parts, ...shared });
    this.#stores.set(farm, plain!);
    return farm;
  }

  async #reach(life: Life, page: Page, path: string, init: RequestInit): Promise<Response> {
    if (life.dead) return new Promise(() => undefined);
    const response = await this.network.fetch(path, init, page);
    await life.mayEnd();
    return this.#place.mutant.reply?.(response) ?? response;
  }
}
