import { effective, type Effective, type Envelope } from "../events/events.ts";
import { compareText } from "../events/order.ts";
import { upcast } from "../events/upcast.ts";
import { content, text } from "../events/values.ts";
import type { Pending } from "./farm_shapes.ts";
import type { EventRow, OutboxRow } from "./store/rows.ts";
import type { Settled } from "./store/settle.ts";

/** A written row and the event it stands for, parsed once. */
interface Held {
  row: EventRow;
  event: Envelope;
}

/** Rows read from storage, before they count. */
export class Incoming {
  readonly held = new Map<string, Held>();

  take(rows: EventRow[]): void {
    for (const row of rows) if (!row.hidden) this.held.set(row.id, { row, event: eventOf(row) });
  }

  counting(): Envelope[] {
    return counting(this.held);
  }
}

/** All events of the farm on this phone, and what of them still has to be sent. Changed first, written after. */
export class Memory {
  #held = new Map<string, Held>();
  #outbox = new Map<string, OutboxRow>();
  #counting: Envelope[] | null = null;
  /** One entry per version of what counts: the event that was recorded here, or null for any other change. */
  #changes: (Envelope | null)[] = [];

  /** Nothing of the farm is here, and nothing waits. */
  get empty(): boolean {
    return this.#held.size === 0 && this.#outbox.size === 0;
  }

  get version(): number {
    return this.#changes.length;
  }

  /** What was recorded here since a version, or null when something else changed as well. */
  since(version: number): Envelope[] | null {
    const added = this.#changes.slice(version);
    return added.every((event) => event !== null) ? added : null;
  }

  /** What the view is folded from: everything but what the server refused. */
  counting(): Envelope[] {
    return (this.#counting ??= counting(this.#held));
  }

  /** What the farm's server has: the only entries that may be let go when they grow old. */
  settled(): Envelope[] {
    const there = [...this.#held.values()].filter(({ row }) => isThere(row));
    return there.map(({ event }) => event);
  }

  /** Voids and corrections the server has placed, of entries that are not here or do not count. */
  bare_links(): Set<string> {
    const bare = [...this.#held.values()].filter(
      ({ row, event }) => row.st === "ok" && isLink(event) && names_nothing_here(event, this.#held),
    );
    return new Set(bare.map(({ event }) => event.id));
  }

  event(id: string): Envelope | undefined {
    return this.#held.get(id)?.event;
  }

  row(id: string): EventRow | undefined {
    return this.#held.get(id)?.row;
  }

  /** The farm's server has it, as far as this phone was told. */
  settledAs(id: string): boolean {
    return isThere(this.row(id));
  }

  outbox(st: OutboxRow["st"]): OutboxRow[] {
    return [...this.#outbox.values()].filter((row) => row.st === st);
  }

  /** All of it as it is stored. */
  get rows(): { events: EventRow[]; outbox: OutboxRow[] } {
    return { events: [...this.#held.values()].map(({ row }) => row), outbox: [...this.#outbox.values()] };
  }

  /** Entries only this phone knows: those that wait, and those the server refused. */
  unknown_to_server(): OutboxRow[] {
    return [...this.outbox("waiting"), ...this.outbox("rejected")];
  }

  /** In the order they were recorded. */
  listed(st: OutboxRow["st"]): Pending[] {
    const rows = this.outbox(st).sort((a, b) => compareText(a.hlc, b.hlc));
    return rows.flatMap(({ id, code, why }) => {
      const event = this.event(id);
      return event ? [{ event, code, why }] : [];
    });
  }

  count(st: OutboxRow["st"]): number {
    let n = 0;
    for (const row of this.#outbox.values()) if (row.st === st) n++;
    return n;
  }

  replace({ held }: Incoming, outbox: OutboxRow[]): void {
    this.#held = held;
    this.#outbox = new Map(outbox.filter(({ id }) => !isThere(held.get(id)?.row)).map((row) => [row.id, row]));
    this.#changed(null);
  }

  put(rows: EventRow[]): void {
    for (const row of rows) {
      if (row.hidden) this.#forget(row.id);
      else if (this.#hold(row)) this.#changed(null);
      if (row.own && isThere(row)) this.#outbox.delete(row.id);
    }
  }

  /** Most rows come twice, once recorded and once confirmed: what did not change costs no new fold. */
  #hold(row: EventRow): boolean {
    const before = this.#held.get(row.id);
    const same = before && before.row.text === row.text && sameEff(before.row.eff, row.eff);
    const event = same ? before.event : eventOf(row);
    this.#held.set(row.id, { row, event });
    return same ? counts(before.row) !== counts(row) : true;
  }

  /** A tap: nothing here can be about an entry that did not exist a moment ago. */
  record(row: EventRow, outbox: OutboxRow): void {
    this.#outbox.set(outbox.id, outbox);
    this.#hold(row);
    const [before, { event }] = [this.#counting, this.#held.get(row.id)!];
    this.#changed(event);
    if (before) this.#counting = [...before, event];
  }

  settle(settled: Settled): void {
    for (const id of settled.sent) this.#outbox.delete(id);
    for (const row of settled.refused) this.#outbox.set(row.id, row);
    this.put(settled.events);
    for (const id of settled.gone) this.#forget(id);
  }

  drop(ids: string[]): void {
    for (const id of ids) {
      this.#forget(id);
      this.#outbox.delete(id);
    }
  }

  #forget(id: string): void {
    if (this.#held.delete(id)) this.#changed(null);
  }

  #changed(added: Envelope | null): void {
    this.#changes.push(added);
    this.#counting = null;
  }
}

function isLink({ kind }: Envelope): boolean {
  return kind === "void" || kind === "correct";
}

/** A void or correction that names no entry at all is not about one that is not here, or does not count. */
function names_nothing_here(event: Envelope, held: Map<string, Held>): boolean {
  const of = text(content(event), "of");
  return of !== "" && !counts(held.get(of)?.row);
}

/** What cannot even be parsed has nothing but its id, and is set aside by the fold. */
function eventOf(row: EventRow): Envelope {
  try {
    return upcast(effective(JSON.parse(row.text) as Envelope, row.eff));
  } catch {
    return { id: row.id } as Envelope;
  }
}

/** In the farm's log. */
function isThere(row: EventRow | undefined): boolean {
  return row?.st === "ok" || row?.st === "parked";
}

function counting(held: Map<string, Held>): Envelope[] {
  const events: Envelope[] = [];
  for (const { row, event } of held.values()) if (counts(row)) events.push(event);
  return events;
}

function counts(row: EventRow | undefined): boolean {
  return row !== undefined && row.st !== "rejected";
}

function sameEff(a: Effective | null, b: Effective | null): boolean {
  return a?.happened === b?.happened && a?.on === b?.on && a?.hlc === b?.hlc && a?.odd === b?.odd;
}
