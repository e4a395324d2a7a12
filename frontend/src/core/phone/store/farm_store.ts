import type { ClockReading } from "../../base/clock.ts";
import { isAfter, isSane } from "../../base/clock.ts";
import type { Env } from "../../base/env.ts";
import { compareText } from "../../events/order.ts";
import type { OutlookDoc } from "../../outlook/ground/documents.ts";
import type { Changes } from "../sync/wire.ts";
import { BORN, Connection, type Tx } from "./connection.ts";
import { StoreError } from "./errors.ts";
import { FARM_MIGRATIONS } from "./migrations.ts";
import type { Cursor, EventRow, Meta, OutboxRow, OutlookRow, StoreName } from "./rows.ts";
import { drop, offer_again, put, quietly, type Writing } from "./puts.ts";
import { cursorOf, further, newsIn, type Settled } from "./settle.ts";

export interface Verdict {
  kind: "applied" | "gap" | "other_epoch";
  /** The answered entries as they now stand in storage. */
  events: EventRow[];
}
export const ALL: StoreName[] = ["events", "outbox", "outlooks", "meta"];
const PER_ROW_MS = 5;
const PORTION = 400;
/** A browser puts longer values into files of their own, which take longer to come back. */
const PART_LENGTH = 24_000;
export const START: Cursor = { seq: 0, outlook_rev: 0 };

export interface Loaded {
  events: EventRow[];
  outbox: OutboxRow[];
  outlooks: OutlookRow[];
  meta: Partial<Meta>;
}

/** What stands in a picture of the farm is true as long as nothing was written since. */
export interface Pictured {
  meta: Partial<Meta>;
  /** "" when there is none, or none of the farm as it is now. */
  text: string;
}

export interface Reply {
  settled: Settled;
  changes: Changes;
  rows: EventRow[];
  clock: ClockReading;
  at: number;
}

/** Everything one person keeps of one farm on this phone. Each method is one transaction, whole or not at all. */
export class FarmStore {
  readonly connection: Connection;
  readonly name: string;
  onOutdated: () => void = () => undefined;
  onLost: () => void = () => undefined;
  #ahead: Promise<Pictured> | null = null;

  constructor(person: string, farm: string, env: Env) {
    this.name = databaseName(person, farm);
    this.connection = new Connection({
      name: this.name, env, migrations: FARM_MIGRATIONS, onOutdated: () => this.onOutdated(),
      onLost: () => this.onLost(),
    });
  }

  /** Begins to read the picture before anybody knows for certain that it will be wanted. */
  lookAhead(): this {
    this.#ahead = this.#readPicture();
    this.#ahead.catch(() => undefined);
    return this;
  }

  /** Entries are handed over in portions while more are read: a tap in between need not wait for all of them. */
  load(take: (rows: EventRow[]) => void = () => undefined): Promise<Loaded> {
    return this.connection.read(ALL, async (tx) => {
      const [outbox, outlooks, meta] = await Promise.all([
        tx.objectStore("outbox").getAll(), tx.objectStore("outlooks").getAll(), metaOf(tx),
      ]);
      const events = await inPortions(tx, take);
      return { events, outbox, outlooks, meta };
    }, 20_000);
  }

  /** The picture of the last time, which is a hundredth of all there is. */
  pictured(): Promise<Pictured> {
    const found = this.#ahead ?? this.#readPicture();
    this.#ahead = null;
    return found;
  }

  #readPicture(): Promise<Pictured> {
    return this.connection.read(["meta", "picture"], async (tx) => {
      const [meta, parts] = await Promise.all([metaOf(tx), tx.objectStore("picture").getAll()]);
      const mark = markOf(meta);
      return { meta, text: parts.every((row) => row.mark === mark) ? parts.map(({ text }) => text).join("") : "" };
    });
  }

  /** Says false, and keeps nothing, when somebody has written since the picture was made. */
  keepPicture(text: string, of: Partial<Meta>): Promise<boolean> {
    return this.connection.write(["meta", "picture"], async (tx) => {
      const mark = markOf(await metaOf(tx));
      if (mark !== markOf(of)) return false;
      quietly(tx.objectStore("picture").clear());
      for (let part = 0; part * PART_LENGTH < text.length; part++) {
        put(tx, "picture", { part, text: text.slice(part * PART_LENGTH, (part + 1) * PART_LENGTH), mark });
      }
      return true;
    });
  }

  saveRecorded(event: EventRow, outbox: OutboxRow, clock: ClockReading): Promise<void> {
    return this.connection.write(["events", "outbox", "meta"], async (tx) => {
      put(tx, "events", event);
      put(tx, "outbox", outbox);
      await putClock(tx, clock);
    });
  }

  /** In the order they were recorded, by whichever tab. `born`: of the database they are expected in. */
  async unsent(born?: string): Promise<OutboxRow[]> {
    const rows = await this.only_here(born);
    return rows
      .filter((row) => row.st === "waiting")
      .sort((a, b) => compareText(a.hlc, b.hlc) || compareText(a.id, b.id));
  }

  /** What waits, and what the server refused and nobody has let go. The same word on `born`. */
  only_here(born?: string): Promise<OutboxRow[]> {
    return this.connection.read(["outbox", "meta"], async (tx) => {
      const [found, mark] = await Promise.all([tx.objectStore("outbox").getAll(), tx.objectStore("meta").get(BORN)]);
      if (born !== undefined && born !== (mark?.value ?? "")) throw new StoreError("replaced");
      return found;
    });
  }

  /** Answers, new entries and the cursor together: a crash leaves either all of it or nothing. */
  applyReply(reply: Reply): Promise<Verdict> {
    const { settled, changes, rows } = reply;
    return this.connection.write(ALL, async (tx) => {
      const [epoch, held] = await Promise.all([get<Meta["epoch"]>(tx, "epoch"), get<Cursor>(tx, "cursor")]);
      if (epoch !== changes.epoch) return { kind: "other_epoch", events: [] };
      const cursor = held ?? START;
      const events = await Promise.all(settled.events.map((row) => standing(tx, row, cursor)));
      putSettled(tx, { ...settled, events });
      await putClock(tx, reply.clock);
      if (newsIn(changes, cursor) < 0) return { kind: "gap", events };
      for (const row of rows) if (row.seq > cursor.seq) putTaken(tx, row);
      for (const doc of changes.outlooks) if (doc.rev > cursor.outlook_rev) putOutlook(tx, doc);
      put(tx, "meta", { key: "cursor", value: further(cursor, changes) });
      putFacts(tx, changes, reply.at);
      return { kind: "applied", events };
    }, PER_ROW_MS * (rows.length + changes.outlooks.length));
  }

  applyAnswers(settled: Settled): Promise<void> {
    return this.connection.write(["events", "outbox", "picture"], async (tx) => {
      putSettled(tx, settled);
      quietly(tx.objectStore("picture").clear());
    });
  }

  /**
   * The farm from the server's short list. What this phone wrote itself stays; when the server's history is another one
   * than before, all of it that the list does not show is offered again, what was refused included. `again`: so it is
   * though the epoch is the same, which only a server says that lacks what this phone has seen.
   */
  applySnapshot(changes: Changes, rows: EventRow[], clock: ClockReading, at: number, again = false): Promise<void> {
    return this.connection.write(ALL, async (tx) => {
      const [epoch, held] = await Promise.all([get<Meta["epoch"]>(tx, "epoch"), tx.objectStore("events").getAll()]);
      const receipts = new Map(held.map(({ id, receipt }) => [id, receipt]));
      const here = new Set(rows.map((row) => row.id));
      for (const row of held) {
        if (here.has(row.id) || (!row.own && row.st === "waiting")) continue;
        if (!row.own) drop(tx, "events", row.id);
        else if (again || (epoch !== undefined && epoch !== changes.epoch)) offer_again(tx, row);
        else if (row.seq > 0) put(tx, "events", { ...row, hidden: true });
      }
      // Taken over from another one's store they come without.
      for (const row of rows) putTaken(tx, receipted(row, receipts.get(row.id)));
      quietly(tx.objectStore("outlooks").clear());
      for (const doc of changes.outlooks) putOutlook(tx, doc);
      put(tx, "meta", { key: "epoch", value: changes.epoch });
      put(tx, "meta", { key: "cursor", value: cursorOf(changes) });
      putFacts(tx, changes, at);
      await putClock(tx, clock);
    }, 60_000);
  }

  /** How many of those the server has taken wait again. */
  offerOwnAgain(): Promise<number> {
    return this.connection.write(["events", "outbox"], async (tx) => {
      const taken = (await tx.objectStore("events").getAll()).filter(({ own, seq }) => own && seq > 0);
      for (const row of taken) offer_again(tx, row);
      return taken.length;
    });
  }

  /** A person has read the refusal and lets the entry go. */
  dismiss(id: string): Promise<void> {
    return this.connection.write(["events", "outbox", "picture"], async (tx) => {
      drop(tx, "events", id);
      drop(tx, "outbox", id);
      quietly(tx.objectStore("picture").clear());
    });
  }

  forget(ids: string[]): Promise<void> {
    return this.connection.write(["events"], async (tx) => {
      for (const id of ids) drop(tx, "events", id);
    }, PER_ROW_MS * ids.length);
  }

  putMeta<K extends keyof Meta>(key: K, value: Meta[K]): Promise<void> {
    return this.connection.write(["meta"], async (tx) => void (await tx.objectStore("meta").put({ key, value })));
  }

  close(): void {
    this.connection.close();
  }
}

export function databaseName(person: string, farm: string): string {
  return `mangerline/${person}/${farm}`;
}

async function metaOf(tx: Tx<"readonly"> | Writing): Promise<Partial<Meta>> {
  const rows = await (tx as Tx<"readonly">).objectStore("meta").getAll();
  return Object.fromEntries(rows.map((row) => [row.key, row.value]));
}

/** Every entry written here moves the clock, everything taken from the server the cursor. */
function markOf({ clock, cursor, epoch }: Partial<Meta>): string {
  return JSON.stringify([clock, cursor, epoch]);
}

async function inPortions(tx: Tx<"readonly">, take: (rows: EventRow[]) => void): Promise<EventRow[]> {
  const all: EventRow[] = [];
  for (let after: string | null = null; ; after = all.at(-1)!.id) {
    const rows: EventRow[] = await tx
      .objectStore("events")
      .getAll(after && IDBKeyRange.lowerBound(after, true), PORTION);
    take(rows);
    for (const row of rows) all.push(row);
    if (rows.length < PORTION) return all;
  }
}

async function get<T>(tx: Writing, key: keyof Meta): Promise<T | undefined> {
  return (await tx.objectStore("meta").get(key))?.value as T | undefined;
}

/** Two tabs share one clock; the later reading stands. */
async function putClock(tx: Writing, clock: ClockReading): Promise<void> {
  const held = await get<ClockReading>(tx, "clock");
  if (!held || !isSane(held) || isAfter(clock, held)) await tx.objectStore("meta").put({ key: "clock", value: clock });
}

function putSettled(tx: Writing, settled: Settled): void {
  for (const row of settled.events) put(tx, "events", row);
  for (const id of settled.sent) drop(tx, "outbox", id);
  for (const row of settled.refused) put(tx, "outbox", row);
  for (const id of settled.gone) drop(tx, "events", id);
}

/** The server's own list shows it, so there is nothing left to send. */
function receipted(row: EventRow, receipt: string | undefined): EventRow {
  return receipt === undefined || row.receipt !== undefined ? row : { ...row, receipt };
}

function putTaken(tx: Writing, row: EventRow): void {
  put(tx, "events", row);
  if (row.own) drop(tx, "outbox", row.id);
}

function putOutlook(tx: Writing, doc: OutlookDoc): void {
  put(tx, "outlooks", { doe: doc.doe, rev: doc.rev, text: JSON.stringify(doc) });
}

function putFacts(tx: Writing, changes: Changes, at: number): void {
  put(tx, "meta", { key: "people", value: changes.people });
  put(tx, "meta", { key: "scope", value: changes.scope ?? "" });
  put(tx, "meta", { key: "min_app", value: changes.min_app });
  put(tx, "meta", { key: "sent_at", value: at });
  put(tx, "meta", { key: "server_now", value: changes.now });
}

/** An answer about an entry this phone should have been sent already, and was not: the short list left it out. */
async function standing(tx: Writing, row: EventRow, cursor: Cursor): Promise<EventRow> {
  if (row.seq === 0 || row.seq > cursor.seq) return row;
  const held = await tx.objectStore("events").get(row.id);
  return held?.seq === row.seq ? held : { ...row, hidden: true };
}
