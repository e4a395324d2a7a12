import { join } from "node:path";
import type { Farm } from "../../src/core/phone/farm.ts";
import { Dice } from "../support/random.ts";
import type { Build } from "./builds.ts";
import * as counts from "./counts.ts";
import { Handset, type Place } from "./handset.ts";
import type { Mutant } from "./mutants.ts";
import { WEATHER } from "./network.ts";
import { Recording } from "./recording.ts";
import type { Server } from "./server.ts";
import { Tally } from "./tally.ts";
import { Trouble } from "./trouble.ts";

const ZONE = "Europe/Berlin";
const KILLED_EVERY = 10;
/** Farms whose phones are upgraded one by one, the server last. */
const STAGGERED_EVERY = 5;
const NEWER_SERVER = "tests.support.newer_server:application";
const DAY_MS = 86_400_000;
const YEARS_MS = [400 * DAY_MS, -700 * DAY_MS, 5 * 365 * DAY_MS, -8 * 365 * DAY_MS];
const JUMPS_MS = [300_000, -300_000, 3 * 3_600_000, -DAY_MS];
/** From one thing to the next: time for what a page does in a moment, not for what it waits for. */
const MOMENT_MS = 500;
/** Of somebody off the farm, at each step. */
const BACK_CHANCE = 0.06;
const NAPS_MS = [3_000, 20_000, 90_000, 200_000];

export interface Outcome {
  recorded: number;
  in_log: number;
  problems: string[];
}

/** One seeded farm: several phones and people, everything that can go wrong, then healing, then the count. */
export class Machine {
  readonly #server: Server;
  readonly #dice: Dice;
  readonly #mutant: Mutant;
  readonly #tally: Tally;
  readonly #seed: number;
  readonly #newer: Build | null;
  readonly #recording: Recording;
  #trouble!: Trouble;
  #place!: Place;
  #phones: Handset[] = [];
  #people: string[] = [];
  #problems = new Set<string>();

  constructor(server: Server, seed: number, mutant: Mutant = {}, newer: Build | null = null, tally = new Tally()) {
    [this.#server, this.#seed, this.#mutant, this.#newer, this.#tally] = [server, seed, mutant, newer, tally];
    this.#dice = new Dice(seed);
    this.#recording = new Recording(this.#dice, tally);
  }

  async run(steps: number): Promise<Outcome> {
    await this.#begin();
    if (this.#staggered) this.#phones.slice(2).forEach((phone) => (phone.build = this.#newer!));
    const cut_at = this.#seed % KILLED_EVERY === 0 ? Math.floor(steps / 2) : -1;
    for (let i = 0; i < steps; i++) await (i === cut_at ? this.#powerCut() : this.#step());
    const stuck = await this.#heal();
    const { events, problems } = await this.#count();
    for (const phone of this.#phones) phone.crash();
    await this.#server.ask("drop");
    if (this.#staggered) await this.#serve("downgrade");
    return { recorded: this.#recording.recorded, in_log: events, problems: [...this.#problems, ...stuck, ...problems] };
  }

  get #staggered(): boolean {
    return this.#newer !== null && this.#seed % STAGGERED_EVERY === 3;
  }

  /** The farm's server and the hand behind it become another build. */
  async #serve(how: "upgrade" | "downgrade"): Promise<void> {
    await this.#server.kill();
    await this.#server.ask(how);
    await this.#server.start(how === "upgrade" ? NEWER_SERVER : undefined);
  }

  async #begin(): Promise<void> {
    const { farm, people } = await this.#server.ask<{ farm: string; people: string[] }>("farm", {
      people: 3, zone: ZONE,
    });
    this.#people = people;
    const with_all = { server: this.#server, dice: this.#dice, tally: this.#tally, farm };
    this.#trouble = new Trouble({ ...with_all, people, saved: this.#recording.saved });
    this.#place = {
      ...with_all, zone: ZONE, faults: { ...WEATHER, ...this.#mutant.faults }, mutant: this.#mutant,
      meanwhile: (phone) => this.#trouble.meanwhile(phone),
    };
    this.#phones = [0, 1, 2, 3].map(() => new Handset(this.#place));
    for (const [i, phone] of this.#phones.entries()) await phone.signIn(people[i % people.length]!);
    await this.#recording.write(this.#phones[0]!, await this.#phones[0]!.farm());
  }

  async #step(): Promise<void> {
    const phone = this.#dice.pick(this.#phones);
    await phone.pass(MOMENT_MS);
    await this.#taken(phone);
    if (this.#trouble.gone && this.#dice.chance(BACK_CHANCE)) await this.#trouble.takeBack();
    const at = this.#dice.below(100);
    if (at < 40) return this.#record(phone);
    if (at < 66) return this.#sync(phone);
    if (at < 72) return phone.pass(this.#dice.pick(NAPS_MS));
    if (at < 75) return this.#killed(phone);
    if (at < 80) return this.#turnClock(phone);
    if (at < 82) return phone.network.deliverLate();
    if (at < 87) return phone.signIn(this.#dice.pick(this.#people));
    return at < 93 ? this.#server_has(at) : this.#farm_has(at, phone);
  }

  /** Nobody whose farm has been wiped from a phone goes on recording there. */
  async #taken(phone: Handset): Promise<void> {
    const { gone } = this.#trouble;
    if (phone.person === gone && !(await phone.holds(gone))) await phone.signIn(this.#people[0]!);
  }

  async #server_has(at: number): Promise<void> {
    if (at < 88) return this.#signOutEverybody();
    return at < 92 ? this.#backUpOrBack() : this.#poison();
  }

  async #farm_has(at: number, phone: Handset): Promise<void> {
    const trouble = this.#trouble;
    if (at < 94) return trouble.changeRole();
    if (at < 96) return trouble.place();
    if (at < 97) return trouble.letIn();
    if (at < 98) return trouble.work();
    return trouble.empty(phone, this.#dice.chance(0.6) ? "storage gone at start" : "storage gone, app open");
  }

  #killed(phone: Handset): void {
    this.#tally.add("app killed");
    phone.crash();
  }

  #turnClock(phone: Handset): void {
    const at = this.#dice.below(4);
    const [fault, to] = at === 0
      ? ["clock off" as const, this.#dice.pick(JUMPS_MS)]
      : at < 3 ? ["clock years off" as const, this.#dice.pick(YEARS_MS)] : ["clock put right" as const, 0];
    if (at < 3 || phone.offset_ms !== 0) this.#tally.add(fault);
    phone.offset_ms = to;
  }

  async #signOutEverybody(): Promise<void> {
    this.#tally.add("signed out");
    await this.#server.ask("sign_out_everybody");
  }

  async #poison(): Promise<void> {
    this.#tally.add("poison in the log");
    const { does } = this.#recording;
    await this.#server.ask("poison", { farm: this.#place.farm, does, seed: this.#dice.below(2 ** 31) });
  }

  /** The server dies while phones are talking to it, before or after it wrote, and comes back on the same data. */
  async #powerCut(): Promise<void> {
    this.#tally.add("server killed");
    for (const phone of this.#phones) await this.#record(phone);
    const talking = this.#phones.map((phone) => this.#sync(phone));
    await new Promise((next) => setTimeout(next, this.#seed % 40));
    await this.#server.kill();
    await Promise.all(talking);
    await this.#server.start();
  }

  async #record(phone: Handset): Promise<void> {
    await this.#taken(phone);
    return this.#recording.record(phone);
  }

  async #sync(phone: Handset): Promise<void> {
    const ended = await phone.sync(await phone.farm(phone.person, this.#dice.chance(0.15) ? 1 : 0));
    this.#look(phone);
    // People sign in again when asked, most of the time.
    if (typeof ended === "object" && ended.kind === "locked" && this.#dice.chance(0.7))
      await phone.signIn(phone.person);
  }

  #look(phone: Handset): void {
    const emptied = this.#trouble.emptied.get(phone) ?? new Set();
    const sent = counts.calledSent(phone, this.#recording.saved, emptied);
    for (const problem of [...sent, ...phone.network.problems]) this.#problems.add(problem);
  }

  async #backUpOrBack(): Promise<void> {
    const { backup, gone } = this.#trouble;
    if (!backup || gone || this.#dice.chance(0.4)) {
      this.#trouble.backup = join(this.#server.folder, "backup.jsonl.gz");
      await this.#server.ask("back_up", { file: this.#trouble.backup });
    } else {
      this.#tally.add("server put back");
      await this.#server.ask("put_back", { file: backup });
    }
  }

  /** Good signal, right clocks, everybody signs in on every phone they ever used, until nothing is left to send. */
  async #heal(): Promise<string[]> {
    const trouble = this.#trouble;
    await trouble.promote();
    if (trouble.gone && this.#dice.chance(0.5)) await trouble.takeBack();
    if (this.#staggered) await this.#serve("upgrade");
    for (const phone of this.#phones) {
      if (this.#staggered) phone.build = this.#newer!;
      [phone.network.fair, phone.offset_ms] = [true, 0];
      phone.crash();
      await phone.network.deliverLate();
    }
    const stuck: string[] = [];
    for (let round = 0; round < 3; round++) {
      stuck.length = 0;
      for (const phone of this.#phones) stuck.push(...(await this.#settled(phone)));
      await trouble.letIn(true);
      if (round === 1) await this.#server.ask("work", { farm: this.#place.farm, all: true });
    }
    return stuck;
  }

  async #settled(phone: Handset): Promise<string[]> {
    const stuck: string[] = [];
    for (const person of this.#people) {
      stuck.push(...(await counts.unsettled(phone, person, person === this.#trouble.gone)));
      this.#look(phone);
    }
    return stuck;
  }

  /** As it stands in storage, for memory may know better. */
  async #count(): Promise<{ events: number; problems: string[] }> {
    for (const phone of this.#phones) phone.crash();
    const log = await this.#server.ask<counts.Log>("log", { farm: this.#place.farm });
    const made = await this.#server.ask<Record<string, string>>("outlooks", { farm: this.#place.farm });
    const left = await this.#leftBehind();
    const farms = await this.#farms();
    const { saved } = this.#recording;
    const notices = this.#phones.flatMap(({ said }) => said);
    this.#tally.add("loss said", notices.filter(({ what }) => what === "lost").length);
    const problems = [
      ...left, ...counts.lost(log, farms, saved, this.#trouble), ...counts.unsaid(log, saved, this.#trouble),
      ...counts.doubled(log), ...counts.misnamed(log, this.#recording), ...counts.apart(log, farms),
      ...counts.outdated(made, farms), ...counts.queues(farms), ...counts.causality(log, farms[0]!, this.#recording),
    ];
    return { events: log.events.length, problems };
  }

  async #leftBehind(): Promise<string[]> {
    const { gone } = this.#trouble;
    const left = await Promise.all(this.#phones.map(async (phone) => gone !== "" && phone.holds(gone)));
    return left.flatMap((held, i) => (held ? [`left behind: phone ${i}`] : []));
  }

  async #farms(): Promise<Farm[]> {
    const farms: Farm[] = [];
    const here = this.#people.filter((person) => person !== this.#trouble.gone);
    for (const phone of this.#phones) for (const person of here) farms.push(await phone.farm(person));
    return [...farms, await this.#newcomer()];
  }

  /** A phone that was never there before must come to the same farm from the short list alone. */
  async #newcomer(): Promise<Farm> {
    const phone = new Handset({ ...this.#place, mutant: {} });
    phone.network.fair = true;
    if (this.#staggered) phone.build = this.#newer!;
    await phone.signIn(this.#people[0]!);
    const farm = await phone.farm();
    await phone.sync(farm);
    this.#phones.push(phone);
    return farm;
  }
}
