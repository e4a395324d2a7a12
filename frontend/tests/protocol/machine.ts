import { addDays } from "../../src/core/base/days.ts";
import type { Data } from "../../src/core/events/events.ts";
import type { Farm } from "../../src/core/phone/farm.ts";
import { newId } from "../../src/core/base/ids.ts";
import type { Kind } from "../../src/core/events/kinds.ts";
import { join } from "node:path";
import { Dice } from "../support/random.ts";
import type { Build } from "./builds.ts";
import { Handset, type Place } from "./handset.ts";
import type { Mutant } from "./mutants.ts";
import { apart, doubled, lost, queues, unsettled, type Log } from "./counts.ts";
import { WEATHER, type Faults } from "./network.ts";
import type { Server } from "./server.ts";

const ZONE = "Europe/Berlin";
const KILLED_EVERY = 10;
/** Farms whose phones are upgraded one by one, the server last. */
const STAGGERED_EVERY = 5;
const NEWER_SERVER = "tests.support.newer_server:application";
const DAY_MS = 86_400_000;
const JUMPS_MS = [0, 0, 300_000, -300_000, 3 * 3_600_000, -DAY_MS, 400 * DAY_MS, -700 * DAY_MS];

export interface Outcome {
  recorded: number;
  in_log: number;
  problems: string[];
}

/** What somebody wrote into a record field, and whose word they had in front of them. */
interface Write {
  id: string;
  field: string;
  over: string;
}

/** One seeded farm: several phones and people, everything that can go wrong, then healing, then the count. */
export class Machine {
  readonly #server: Server;
  readonly #dice: Dice;
  readonly #mutant: Mutant;
  readonly #faults: Faults;
  #phones: Handset[] = [];
  #people: string[] = [];
  #farm = "";
  #does: string[] = [];
  #saved = new Set<string>();
  #writes: Write[] = [];
  #backup = "";
  #adviser = "";
  #recorded = 0;
  #pen = "";
  #lastFed = "";
  readonly #today = new Date().toISOString().slice(0, 10);

  readonly #seed: number;
  readonly #newer: Build | null;

  constructor(server: Server, seed: number, mutant: Mutant = {}, newer: Build | null = null) {
    this.#newer = newer;
    this.#server = server;
    this.#seed = seed;
    this.#dice = new Dice(seed);
    this.#mutant = mutant;
    this.#faults = { ...WEATHER, ...mutant.faults };
  }

  async run(steps: number): Promise<Outcome> {
    await this.#begin();
    if (this.#staggered) this.#phones.slice(2).forEach((phone) => (phone.build = this.#newer!));
    const cut_at = this.#seed % KILLED_EVERY === 0 ? Math.floor(steps / 2) : -1;
    for (let i = 0; i < steps; i++) await (i === cut_at ? this.#powerCut() : this.#step());
    const stuck = await this.#heal();
    const problems = [...stuck, ...(await this.#count())];
    const { events } = await this.#server.ask<Log>("log", { farm: this.#farm });
    for (const phone of this.#phones) phone.crash();
    await this.#server.ask("drop");
    if (this.#staggered) await this.#serve("downgrade");
    return { recorded: this.#recorded, in_log: events.length, problems };
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
    [this.#farm, this.#people] = [farm, people];
    const place: Place = {
      farm, zone: ZONE, server: this.#server, dice: this.#dice, faults: this.#faults, mutant: this.#mutant,
    };
    this.#phones = [0, 1, 2, 3].map(() => new Handset(place));
    this.#does = [0, 1, 2].map(() => newId(Date.now(), (n) => this.#dice.bytes(n)));
    this.#pen = newId(Date.now(), (n) => this.#dice.bytes(n));
    for (const [i, phone] of this.#phones.entries()) await phone.signIn(people[i % people.length]!);
    await this.#write(this.#phones[0]!, await this.#phones[0]!.farm());
  }

  async #step(): Promise<void> {
    const phone = this.#dice.pick(this.#phones);
    const at = this.#dice.below(100);
    if (at < 44) return this.#record(phone);
    if (at < 74) return this.#sync(phone);
    if (at < 78) return phone.crash();
    if (at < 83) return void (phone.offset_ms = this.#dice.pick(JUMPS_MS));
    if (at < 86) return phone.network.deliverLate();
    if (at < 88) return void (await this.#server.ask("sign_out_everybody"));
    if (at < 90) return phone.signIn(this.#dice.pick(this.#people));
    if (at < 93) return this.#backUp();
    if (at < 95) return this.#putBack();
    if (at < 97)
      return void (await this.#server.ask("poison", {
        farm: this.#farm, does: this.#does, seed: this.#dice.below(2 ** 31),
      }));
    return this.#demote();
  }

  /** The server dies while phones are talking to it, before or after it wrote, and comes back on the same data. */
  async #powerCut(): Promise<void> {
    for (const phone of this.#phones) await this.#record(phone);
    const talking = this.#phones.map((phone) => this.#sync(phone));
    await new Promise((next) => setTimeout(next, this.#seed % 40));
    await this.#server.kill();
    await Promise.all(talking);
    await this.#server.start();
  }

  async #sync(phone: Handset): Promise<void> {
    const ended = await phone.sync(await phone.farm(phone.person, this.#dice.chance(0.15) ? 1 : 0));
    // People sign in again when asked, most of the time.
    if (typeof ended === "object" && ended.kind === "locked" && this.#dice.chance(0.7))
      await phone.signIn(phone.person);
  }

  async #record(phone: Handset): Promise<void> {
    const farm = await phone.farm(phone.person, this.#dice.chance(0.1) ? 1 : 0);
    const at = this.#dice.below(10);
    if (at < 3) return this.#write(phone, farm);
    if (at < 4) return this.#undo(phone, farm);
    const { kind, subject, data } = this.#observation();
    // A millisecond of its own for each, so that two tabs never record the very same thing.
    return this.#keep(
      phone, farm.record(kind, subject, data, { happened: phone.now() + this.#recorded, slot: "morning" }),
    );
  }

  #observation(): { kind: Kind; subject: string; data: Data } {
    const dice = this.#dice;
    const doe = dice.pick(this.#does);
    const fed = [{ to: "", feed: "grass_hay", g: 1000 + this.#recorded }, { to: doe, feed: "barley_grain", g: 100 }];
    const steps = [{ on: addDays(this.#today, dice.below(5)), g: 50 * dice.below(6) }];
    const made: Partial<Record<Kind, [subject: string, data: Data]>> = {
      score: [doe, { x100: 100 + 25 * dice.below(17) }],
      note: [doe, { text: `note ${this.#recorded}` }],
      bred: [doe, { from_on: "2026-08-01", to_on: "2026-08-02", how: "pen", buck: `Buck ${this.#recorded}` }],
      pen: [this.#pen, { f: { name: `Pen ${this.#recorded}` }, base: {} }],
      moved: [doe, { pen: dice.pick([this.#pen, ""]) }],
      ration: [doe, { to: "doe", slot: "morning", feed: "barley_grain", steps, base: "" }],
      fed: [this.#pen, { lines: fed, adds: dice.chance(0.2) }],
      intake: [doe, { how: "left_some", left_pct: dice.below(101), feed: "", fed: this.#lastFed }],
      kidded: [doe, { born: 2, alive: dice.below(3), timed: false }],
    };
    const kind = dice.pick([
      "score", "score", "note", "bred", "pen", "moved", "ration", "fed", "fed", "intake", "kidded",
    ] as const);
    const [subject, data] = made[kind]!;
    return { kind, subject, data };
  }

  /** A person looks at a field, then changes it: whatever they saw must not win over what they wrote. */
  async #write(phone: Handset, farm: Farm): Promise<void> {
    const doe = this.#dice.pick(this.#does);
    const field = this.#dice.pick(["name", "mature_kg"]);
    const value = field === "name" ? `Name ${this.#recorded}` : 20 + this.#dice.below(60);
    const seen = farm.view.does[doe];
    const made = farm.record("doe", doe, { f: { [field]: value }, base: { [field]: seen?.stamp[field] ?? "" } });
    this.#writes.push({ id: made.id, field: `${doe} ${field}`, over: seen?.by[field] ?? "" });
    await this.#keep(phone, made);
  }

  /** Taken back, or put right. */
  async #undo(phone: Handset, farm: Farm): Promise<void> {
    const events = farm.events(({ kind }) => kind !== "doe");
    if (events.length === 0) return;
    const { id, subject, kind } = this.#dice.pick(events);
    const right = kind === "score" && this.#dice.chance(0.5);
    const data: Data = right ? { of: id, data: { x100: 100 + 25 * this.#dice.below(17) } } : { of: id };
    await this.#keep(
      phone, farm.record(right ? "correct" : "void", subject, data, { happened: phone.now() + this.#recorded }),
    );
  }

  /** Only what the app called saved is owed. */
  async #keep(phone: Handset, { id, saved }: { id: string; saved: Promise<void> }): Promise<void> {
    this.#recorded++;
    if (this.#dice.chance(0.2)) this.#lastFed = id;
    phone.life.crash_chance = this.#dice.chance(0.05) ? 0.5 : 0;
    const ended = await Promise.race([saved.then(() => "saved", () => "not_saved"), phone.life.died]);
    phone.life.crash_chance = 0;
    if (ended === "saved") this.#saved.add(id);
    if (ended === "died") phone.crash();
  }

  async #backUp(): Promise<void> {
    this.#backup = join(this.#server.folder, "backup.jsonl.gz");
    await this.#server.ask("back_up", { file: this.#backup });
  }

  async #putBack(): Promise<void> {
    if (this.#backup) await this.#server.ask("put_back", { file: this.#backup });
  }

  /** For a while somebody may only read, or help: what is refused meanwhile must not be forgotten. */
  async #demote(): Promise<void> {
    await this.#promote();
    this.#adviser = this.#dice.pick(this.#people);
    const role = this.#dice.pick(["adviser", "helper"]);
    await this.#server.ask("role", { farm: this.#farm, person: this.#adviser, role });
  }

  async #promote(): Promise<void> {
    for (const person of this.#people) await this.#server.ask("role", { farm: this.#farm, person, role: "family" });
  }

  /** Good signal, right clocks, everybody signs in on every phone they ever used, until nothing is left to send. */
  async #heal(): Promise<string[]> {
    await this.#promote();
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
      for (const phone of this.#phones) {
        for (const person of this.#people) {
          stuck.push(...(await unsettled(phone, person)));
        }
      }
    }
    return stuck;
  }

  async #count(): Promise<string[]> {
    const log = await this.#server.ask<Log>("log", { farm: this.#farm });
    const farms = await this.#farms();
    return [
      ...lost(log, farms, this.#saved), ...doubled(log), ...apart(log, farms), ...queues(farms),
      ...this.#causality(log, farms[0]!),
    ];
  }

  async #farms(): Promise<Farm[]> {
    const farms: Farm[] = [];
    for (const phone of this.#phones) for (const person of this.#people) farms.push(await phone.farm(person));
    return [...farms, await this.#newcomer()];
  }

  /** A phone that was never there before must come to the same farm from the short list alone. */
  async #newcomer(): Promise<Farm> {
    const place: Place = {
      farm: this.#farm, zone: ZONE, server: this.#server, dice: this.#dice, faults: this.#faults, mutant: {},
    };
    const phone = new Handset(place);
    phone.network.fair = true;
    if (this.#staggered) phone.build = this.#newer!;
    await phone.signIn(this.#people[0]!);
    const farm = await phone.farm();
    await phone.sync(farm);
    this.#phones.push(phone);
    return farm;
  }

  #causality(log: Log, farm: Farm): string[] {
    const counts = new Set(log.events.map(({ id }) => id));
    const by = new Map<string, string>();
    for (const doe of this.#does) {
      for (const [field, id] of Object.entries(farm.view.does[doe]?.by ?? {})) by.set(`${doe} ${field}`, id);
    }
    const beaten = this.#writes.filter(
      ({ id, field, over }) => over !== "" && counts.has(id) && by.get(field) === over,
    );
    return beaten.map(({ id, over }) => `causality: ${over} stands over ${id}, written in sight of it`);
  }
}
