import { addDays } from "../../src/core/base/days.ts";
import { newId } from "../../src/core/base/ids.ts";
import type { Data } from "../../src/core/events/events.ts";
import type { Kind } from "../../src/core/events/kinds.ts";
import type { Farm } from "../../src/core/phone/farm.ts";
import type { Dice } from "../support/random.ts";
import type { Handset } from "./handset.ts";
import type { Tally } from "./tally.ts";

/** What somebody wrote into a record field, and whose word they had in front of them. */
export interface Write {
  id: string;
  field: string;
  over: string;
}

/** Who called it saved, and on which phone. */
export interface Owed {
  person: string;
  phone: Handset;
}

/** What people record in a run, and what the app owes them for it. */
export class Recording {
  readonly saved = new Map<string, Owed>();
  readonly authors = new Map<string, string>();
  readonly writes: Write[] = [];
  readonly does: string[];
  recorded = 0;
  readonly #dice: Dice;
  readonly #tally: Tally;
  readonly #pen: string;
  #lastFed = "";
  readonly #today = new Date().toISOString().slice(0, 10);

  constructor(dice: Dice, tally: Tally) {
    [this.#dice, this.#tally] = [dice, tally];
    this.does = [0, 1, 2].map(() => newId(Date.now(), (n) => dice.bytes(n)));
    this.#pen = newId(Date.now(), (n) => dice.bytes(n));
  }

  async record(phone: Handset): Promise<void> {
    const farm = await phone.farm(phone.person, this.#dice.chance(0.1) ? 1 : 0);
    const at = this.#dice.below(10);
    if (at < 3) return this.write(phone, farm);
    if (at < 4) return this.#undo(phone, farm);
    const { kind, subject, data } = this.#observation();
    // A millisecond of its own for each, so that two tabs never record the very same thing.
    return this.#keep(
      phone, farm, farm.record(kind, subject, data, { happened: phone.now() + this.recorded, slot: "morning" }),
    );
  }

  #observation(): { kind: Kind; subject: string; data: Data } {
    const dice = this.#dice;
    const doe = dice.pick(this.does);
    const fed = [{ to: "", feed: "grass_hay", g: 1000 + this.recorded }, { to: doe, feed: "barley_grain", g: 100 }];
    const steps = [{ on: addDays(this.#today, dice.below(5)), g: 50 * dice.below(6) }];
    const made: Partial<Record<Kind, [subject: string, data: Data]>> = {
      score: [doe, { x100: 100 + 25 * dice.below(17) }],
      note: [doe, { text: `note ${this.recorded}` }],
      bred: [doe, { from_on: "2026-08-01", to_on: "2026-08-02", how: "pen", buck: `Buck ${this.recorded}` }],
      pen: [this.#pen, { f: { name: `Pen ${this.recorded}` }, base: {} }],
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
  async write(phone: Handset, farm: Farm): Promise<void> {
    const doe = this.#dice.pick(this.does);
    const field = this.#dice.pick(["name", "mature_kg"]);
    const value = field === "name" ? `Name ${this.recorded}` : 20 + this.#dice.below(60);
    const seen = farm.view.does[doe];
    const made = farm.record("doe", doe, { f: { [field]: value }, base: { [field]: seen?.stamp[field] ?? "" } });
    this.writes.push({ id: made.id, field: `${doe} ${field}`, over: seen?.by[field] ?? "" });
    await this.#keep(phone, farm, made);
  }

  /** Taken back, or put right. */
  async #undo(phone: Handset, farm: Farm): Promise<void> {
    const events = farm.events(({ kind }) => kind !== "doe");
    if (events.length === 0) return;
    const { id, subject, kind } = this.#dice.pick(events);
    const right = kind === "score" && this.#dice.chance(0.5);
    const data: Data = right ? { of: id, data: { x100: 100 + 25 * this.#dice.below(17) } } : { of: id };
    await this.#keep(
      phone, farm, farm.record(right ? "correct" : "void", subject, data, { happened: phone.now() + this.recorded }),
    );
  }

  /** Only what the app called saved is owed. */
  async #keep(phone: Handset, farm: Farm, { id, saved }: { id: string; saved: Promise<void> }): Promise<void> {
    this.recorded++;
    this.authors.set(id, farm.person);
    if (this.#dice.chance(0.2)) this.#lastFed = id;
    phone.life.crash_chance = this.#dice.chance(0.05) ? 0.5 : 0;
    const ended = await Promise.race([saved.then(() => "saved", () => "not_saved"), phone.life.died]);
    phone.life.crash_chance = 0;
    if (ended === "saved") this.saved.set(id, { person: farm.person, phone });
    if (ended !== "died") return;
    this.#tally.add("app killed");
    phone.crash();
  }
}
