import type { Env } from "../base/env.ts";
import type { Envelope } from "../events/events.ts";
import { borns_of } from "./store/connection.ts";
import type { FarmStore } from "./store/farm_store.ts";
import type { Meta } from "./store/rows.ts";

export interface Names {
  who: string;
  farm_name: string;
}

/** What one database alone has: sent to nobody yet, or refused. Kept where the browser does not empty the database. */
interface Wait extends Names {
  person: string;
  farm: string;
  born: string;
  n: number;
  /** When the first and the last of them were written down. */
  since: number;
  until: number;
  kinds: Record<string, number>;
}

/** What somebody has to be told, and stays until somebody has read it. */
export interface Notice extends Wait {
  what: "lost" | "removed" | "handed";
}

interface Marks {
  waits: Record<string, Wait>;
  notices: Notice[];
}

type Kept = Pick<Env, "marks">;

/** A marker outside the database: when that is gone with entries in it, somebody is told how many, whose and when. */
export class Waits {
  readonly #env: Kept;
  readonly #of: Names & { at: string; person: string; farm: string };
  #held = "";

  constructor(env: Kept, of: Names & { at: string; person: string; farm: string }) {
    [this.#env, this.#of] = [env, of];
  }

  /** All of the database has been read: one that is another than before has lost what waited in it. */
  opened(waiting: Envelope[], meta: Partial<Meta>): void {
    tell_lost(this.#env, this.#of.at, borns_of(meta));
    this.count(waiting, meta.born ?? "");
  }

  /** Told with what could not be handed in any more: usually nothing. */
  removed(waiting: Envelope[]): void {
    this.#tell("removed", waiting, this.#of.person);
  }

  /** Of somebody else, brought here in a file: an owner decides. */
  handed(events: Envelope[]): void {
    if (events.length) this.#tell("handed", events, events[0]!.author);
  }

  #tell(what: Notice["what"], events: Envelope[], person: string): void {
    const { at: _at, ...of } = this.#of;
    const marks = read(this.#env);
    const before = marks.notices.find((each) => each.what === what && each.person === person && each.farm === of.farm);
    const sum = before ? added(before, summed(events)) : summed(events);
    const others = marks.notices.filter((each) => each !== before);
    write(this.#env, { ...marks, notices: [...others, { ...of, person, born: "", ...sum, what }] });
  }

  count(waiting: Envelope[], born: string): void {
    const held = `${born} ${waiting.map(({ id }) => id).join()}`;
    if (!this.#env.marks || held === this.#held) return;
    this.#held = held;
    const { at, ...of } = this.#of;
    const marks = read(this.#env);
    const named = of.who ? of : { ...of, ...namesOf(marks.waits[at]) };
    delete marks.waits[at];
    if (waiting.length) marks.waits[at] = { ...named, born, ...summed(waiting) };
    write(this.#env, marks);
  }

  async recount(store: Pick<FarmStore, "only_here">, born: string): Promise<void> {
    const rows = await store.only_here(born).catch(() => null);
    if (rows) this.count(rows.map(({ text }) => JSON.parse(text) as Envelope), born);
  }
}

/** One person's entries may be sent while another one has the phone. */
function namesOf(held: Wait | undefined): Names {
  return { who: held?.who ?? "", farm_name: held?.farm_name ?? "" };
}

type Sum = Pick<Wait, "n" | "since" | "until" | "kinds">;

function added(a: Sum, b: Sum): Sum {
  const kinds = { ...a.kinds };
  for (const [kind, n] of Object.entries(b.kinds)) kinds[kind] = (kinds[kind] ?? 0) + n;
  return { n: a.n + b.n, since: Math.min(a.since, b.since), until: Math.max(a.until, b.until), kinds };
}

function summed(waiting: Envelope[]): Sum {
  const kinds: Record<string, number> = {};
  for (const { kind } of waiting) kinds[kind] = (kinds[kind] ?? 0) + 1;
  const entered = waiting.map((event) => event.entered).sort((a, b) => a - b);
  return { n: waiting.length, since: entered[0] ?? 0, until: entered.at(-1) ?? 0, kinds };
}

export function notices(env: Kept): Notice[] {
  return read(env).notices;
}

/** A person has read it. */
export function dismiss(env: Kept, notice: Notice): void {
  const marks = read(env);
  const same = JSON.stringify(notice);
  write(env, { ...marks, notices: marks.notices.filter((each) => JSON.stringify(each) !== same) });
}

/** Where somebody's entries wait, by the names of the databases. */
export function waited(env: Kept): string[] {
  return Object.keys(read(env).waits);
}

/** `borns`: of the database as it is now, and of the one whose content it has. */
export function tell_lost(env: Kept, at: string, borns: string[] | null): void {
  // Storage that cannot be read has lost nothing yet.
  if (borns === null) return;
  const marks = read(env);
  const wait = marks.waits[at];
  if (!wait || borns.includes(wait.born)) return;
  delete marks.waits[at];
  write(env, { ...marks, notices: [...marks.notices, { ...wait, what: "lost" }] });
}

/** On a person's word: nothing of hers is left to be missed. */
export function forget_wait(env: Kept, at: string): void {
  const marks = read(env);
  delete marks.waits[at];
  write(env, marks);
}

function read({ marks }: Kept): Marks {
  try {
    const { waits = {}, notices = [] } = JSON.parse(marks?.read() || "{}") as Partial<Marks>;
    return { waits, notices };
  } catch {
    return { waits: {}, notices: [] };
  }
}

function write({ marks }: Kept, all: Marks): void {
  marks?.write(Object.keys(all.waits).length || all.notices.length ? JSON.stringify(all) : "");
}
