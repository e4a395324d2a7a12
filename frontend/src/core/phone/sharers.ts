import { docOf } from "./docs.ts";
import type { Env } from "../base/env.ts";
import { FarmStore, type Loaded } from "./store/farm_store.ts";
import type { EventRow, OutboxRow } from "./store/rows.ts";

/**
 * The others who use this phone. Each keeps the farm in a database of her own and sends her own entries; but whoever
 * takes the phone over must not feed a doe the last one has just fed.
 */
const ADVISER = "adviser";

export interface Place {
  farmId: string;
  env: Env;
  device: string;
}

/** What another one recorded here and has not sent yet, as entries that count but are not ours to send. */
export async function waitingOf(mate: string, { farmId, env }: Place): Promise<EventRow[]> {
  const store = new FarmStore(mate, farmId, env);
  try {
    return (await store.unsent()).map(foreign);
  } finally {
    store.close();
  }
}

/** Brings a person's own database up to where the last user's stands. The server would send a member the same. */
export async function catchUp(person: string, mate: string, place: Place): Promise<boolean> {
  const [mine, theirs] = [person, mate].map((each) => new FarmStore(each, place.farmId, place.env)) as [
    FarmStore, FarmStore,
  ];
  try {
    const [own, seen] = await Promise.all([mine.load(), theirs.load()]);
    if (!isFurther(own, seen, person)) return false;
    const { epoch, cursor, people, min_app = "", server_now = 0, clock, sent_at = 0 } = seen.meta;
    const changes = {
      epoch: epoch!, events: [], outlooks: seen.outlooks.map(docOf), people: people!, more: false, now: server_now,
      min_app, ...cursor!,
    };
    await mine.applySnapshot(changes, rowsFor(person, place.device, seen.events), clock!, sent_at);
    return true;
  } finally {
    mine.close();
    theirs.close();
  }
}

function isFurther(own: Loaded, seen: Loaded, person: string): boolean {
  const { epoch, cursor, people } = seen.meta;
  const member = people?.some(({ id, role }) => id === person && role !== ADVISER);
  if (!member || epoch === undefined || !cursor) return false;
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
  return {
    id, text, st: "waiting", seq: 0, eff: null, own: false,
    aged_from: (JSON.parse(text) as { entered: number }).entered,
  };
}
