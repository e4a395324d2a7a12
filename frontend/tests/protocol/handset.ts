import type { Farm } from "../../src/core/phone/farm.ts";
import { newDeviceId } from "../../src/core/base/ids.ts";
import type { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import type { Ended } from "../../src/core/phone/sync/ended.ts";
import { TODAY, type Build } from "./builds.ts";
import { TestPhone } from "../support/phone.ts";
import type { Dice } from "../support/random.ts";
import { Life } from "./life.ts";
import type { Mutant } from "./mutants.ts";
import { Jar, Network, type Faults } from "./network.ts";
import type { Server } from "./server.ts";

export interface Place {
  farm: string;
  zone: string;
  server: Server;
  dice: Dice;
  faults: Faults;
  mutant: Mutant;
}

const CRASH_CHANCE = 0.01;
const STUMBLE_CHANCE = 0.02;

/**
 * A phone in somebody's pocket: storage that outlives the app, a clock that is wrong, cookies, and a signal of sorts.
 */
export class Handset {
  readonly network: Network;
  readonly jar = new Jar();
  readonly device: string;
  offset_ms = 0;
  /** The app that is opened next. */
  build: Build = TODAY;
  life: Life;
  person = "";
  readonly #place: Place;
  readonly #storage: TestPhone;
  readonly #opened = new Map<string, Farm>();

  constructor(place: Place) {
    this.#place = place;
    this.#storage = new TestPhone(place.dice.below(2 ** 31));
    this.device = newDeviceId((n) => place.dice.bytes(n));
    this.network = new Network(place.server, this.jar, place.dice, place.faults);
    this.life = new Life(place.dice);
  }

  now(): number {
    return Date.now() + this.offset_ms;
  }

  async signIn(person: string): Promise<void> {
    this.person = person;
    this.jar.set("mangerline_session", await this.#place.server.ask<string>("session", { person }));
    // Each page asks anew who is signed in; an old page must find out by itself.
  }

  /** The app of whoever holds the phone, opened if it is not. */
  async farm(person = this.person, tab = 0): Promise<Farm> {
    const key = `${person}/${tab}`;
    const held = this.#opened.get(key);
    if (held) return held;
    const opened = await this.#open(person);
    this.#opened.set(key, opened);
    return opened;
  }

  /** The process ends: memory is gone, storage stays as it is. */
  crash(): void {
    this.life.end();
    for (const farm of this.#opened.values()) farm.close();
    this.#opened.clear();
    this.life = new Life(this.#place.dice);
  }

  async sync(farm: Farm): Promise<Ended | "died"> {
    this.life.crash_chance = this.network.fair ? 0 : CRASH_CHANCE;
    this.life.stumble_chance = this.network.fair || this.#place.mutant.sure_footed ? 0 : STUMBLE_CHANCE;
    const ended = await Promise.race([farm.sync(), this.life.died]);
    [this.life.crash_chance, this.life.stumble_chance] = [0, 0];
    if (ended === "died") this.crash();
    else if (ended.kind === "locked") await this.#place.mutant.onLocked?.(this.#stores.get(farm)!);
    return ended;
  }

  readonly #stores = new Map<Farm, FarmStore>();

  async #open(person: string): Promise<Farm> {
    const { life } = this;
    const { mutant, farm: farmId, zone } = this.#place;
    let plain: FarmStore | null = null;
    const store = (real: FarmStore) => {
      plain = real;
      return life.over(mutant.store?.(real, life) ?? real);
    };
    const env = this.#storage.env({ now: () => this.now(), fetch: (path, init) => this.#reach(life, path, init) });
    const parts = { store, ...(mutant.clock && { clock: () => mutant.clock!(this.device) }) };
    const farm = await this.build.open({ person, farmId, zone, device: this.device, env, parts });
    this.#stores.set(farm, plain!);
    return farm;
  }

  async #reach(life: Life, path: string, init: RequestInit): Promise<Response> {
    if (life.dead) return new Promise(() => undefined);
    const response = await this.network.fetch(path, init);
    await life.mayEnd();
    return response;
  }
}
