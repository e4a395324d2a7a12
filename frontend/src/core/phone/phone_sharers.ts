import type { Env } from "../base/env.ts";
import type { Envelope } from "../events/events.ts";
import { docOf } from "./docs.ts";
import type { Keeping } from "./keeping.ts";
import { FarmStore, type Loaded } from "./store/farm_store.ts";
import type { EventRow, OutboxRow } from "./store/rows.ts";
import { isTold, type Ended } from "./sync/ended.ts";

const ADVISER = "adviser";

/** Where the others' databases of the same farm are found. */
export interface ThisPhone {
  farmId: string;
  env: Env;
  device: string;
}

interface Parts {
  sharers: string[];
  phone: ThisPhone;
  keeping: Keeping;
  send: () => Promise<Ended>;
  sendAs: (sharer: string) => Promise<Ended>;
}

/**
 * The others who use this phone. Each keeps the farm in a database of her own and sends her own entries; but whoever
 * takes the phone over must not feed a doe the last one has just fed: what others have not sent yet counts here.
 */
export class PhoneSharers {
  #left: EventRow[] = [];
  readonly #parts: Parts;
  /** Those whom the server wants to sign in again: not asked for twice. */
  readonly #locked = new Set<string>();
  /** On the farm no more: nothing of theirs is left here. */
  readonly #gone = new Set<string>();

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  /** The farm starts from where the last one on this phone left it, with what she has not sent. */
  async follow(last: string, person: string): Promise<void> {
    const { phone } = this.#parts;
    // Her outbox first: what is sent between the two readings is found in one of them.
    this.#left = await waitingOf(last, phone).catch(() => []);
    await catchUp(person, last, phone).catch(() => false);
  }

  waiting(): Envelope[] {
    const { keeping } = this.#parts;
    return keeping.of_sharers.map(({ id }) => keeping.memory.event(id)!);
  }

  async see(): Promise<void> {
    const { sharers, phone, keeping } = this.#parts;
    const there = sharers.filter((sharer) => !this.#gone.has(sharer));
    const rows = await Promise.all(there.map((sharer) => waitingOf(sharer, phone).catch(() => [])));
    keeping.takeOfSharers([...this.#left, ...rows.flat()]);
    this.#left = [];
  }

  /**
   * Where there is a signal, what others left here goes out too: each as herself, as long as she has a seat of her own.
   * A server with its hands full has told the whole phone to wait: then that is how it ends.
   */
  async send(): Promise<Ended | null> {
    const authors = new Set(this.waiting().map(({ author }) => author));
    const sharers = [...authors].filter((sharer) => !this.#locked.has(sharer));
    if (sharers.length === 0) return null;
    for (const sharer of sharers) {
      const ended = await this.#parts.sendAs(sharer);
      const { kind } = ended;
      if (isTold(ended)) return ended;
      if (kind === "locked") this.#locked.add(sharer);
      if (kind === "removed") this.#gone.add(sharer);
    }
    // Back in one's own seat, and what has just gone out comes in before it is taken off the list of what waits.
    const own = await this.#parts.send();
    if (own.kind === "done") await this.see();
    return isTold(own) ? own : null;
  }
}

/** What another one recorded here and has not sent yet, as entries that count but are not ours to send. */
async function waitingOf(sharer: string, { farmId, env }: ThisPhone): Promise<EventRow[]> {
  const store = new FarmStore(sharer, farmId, env);
  try {
    return (await store.unsent()).map(foreign);
  } finally {
    store.close();
  }
}

/** Brings a person's own database up to where the last user's stands. The server would send a member the same. */
async function catchUp(person: string, last: string, { farmId, env, device }: ThisPhone): Promise<boolean> {
  const [mine, theirs] = [new FarmStore(person, farmId, env), new FarmStore(last, farmId, env)];
  try {
    const [own, seen] = await Promise.all([mine.load(), theirs.load()]);
    if (!isFurther(own, seen, person, last)) return false;
    const { epoch, cursor, people, min_app = "", server_now = 0, clock, sent_at = 0 } = seen.meta;
    const changes = {
      epoch: epoch!, events: [], outlooks: seen.outlooks.map(docOf), people: people!, more: false, now: server_now,
      min_app, ...cursor!,
    };
    await mine.applySnapshot(changes, rowsFor(person, device, seen.events), clock!, sent_at);
    return true;
  } finally {
    mine.close();
    theirs.close();
  }
}

/** What an adviser has seen is not the farm. */
function isFurther(own: Loaded, seen: Loaded, person: string, last: string): boolean {
  const { epoch, cursor, people } = seen.meta;
  const sees = (one: string) => people?.some(({ id, role, gone }) => id === one && role !== ADVISER && !gone);
  if (!sees(person) || !sees(last) || epoch === undefined || !cursor) return false;
  return own.meta.epoch === undefined || (own.meta.epoch === epoch && cursor.seq > (own.meta.cursor?.seq ?? 0));
}

function rowsFor(person: string, device: string, rows: EventRow[]): EventRow[] {
  const settled = rows.filter(({ seq, hidden }) => seq > 0 && !hidden);
  return settled.map((row) => {
    const written = JSON.parse(row.text) as { author: string; device: string };
    return { ...row, own: written.author === person && written.device === device };
  });
}

function foreign({ id, text }: OutboxRow): EventRow {
  const { entered } = JSON.parse(text) as { entered: number };
  return { id, text, st: "waiting", seq: 0, eff: null, own: false, aged_from: entered };
}
