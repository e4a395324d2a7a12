import type { Answer, Changes, Entry } from "../sync/wire.ts";
import type { Cursor, EventRow, OutboxRow } from "./rows.ts";

/** Pure: what a reply does to the rows on this phone. The store writes it, memory shows it. */
export interface Settled {
  events: EventRow[];
  sent: string[];
  refused: OutboxRow[];
  /** Others' entries that count for nobody any more. */
  gone: string[];
}

/** Whoever recorded it has no seat on this browser: it goes when she signs in, and is not refused for good. */
export const NOT_SEATED = "not_seated";

/** The server cannot read it yet, and has a day's worth of it: it goes tomorrow, or when the server is updated. */
export const UPDATE = "update";

const WAITS = new Set([NOT_SEATED, UPDATE]);

/** Brought from another phone, of somebody who has no seat on this one: it is on the owner's list now. */
export const HANDED_ON = "carried";

export function settleAnswers(batch: OutboxRow[], answers: Answer[], now: number): Settled {
  const said = new Map(answers.map((answer) => [answer.id, answer]));
  const settled: Settled = { events: [], sent: [], refused: [], gone: [] };
  for (const row of batch) {
    const answer = said.get(row.id);
    if (row.carried && answer?.code === HANDED_ON) {
      settled.sent.push(row.id);
      settled.gone.push(row.id);
    } else if (answer?.st === "rejected" && !WAITS.has(answer.code ?? "")) {
      settled.refused.push({ ...row, st: "rejected", code: answer.code ?? "rejected", why: answer.why ?? "" });
      settled.events.push(ownRow(row, "rejected", answer, now));
    } else if (answer && isTaken(answer.st)) {
      settled.sent.push(row.id);
      settled.events.push(ownRow(row, answer.st === "parked" ? "parked" : "ok", answer, now));
    }
  }
  return settled;
}

/** What the farm's server has and counts no more goes back to whoever recorded it; what counts again is taken. */
export function restated({ events, again = [], now }: Changes, here: Here): Settled {
  const settled: Settled = { events: [], sent: [], refused: [], gone: [] };
  for (const entry of [...events.filter(isRefused), ...again]) {
    const row = rowOf(entry, here, now);
    if (!row.own && isRefused(entry)) settled.gone.push(row.id);
    if (!row.own) continue;
    settled.events.push(row);
    if (!isRefused(entry)) settled.sent.push(row.id);
    else settled.refused.push({ ...outboxRow(row), st: "rejected", code: entry.code ?? "", why: entry.why ?? "" });
  }
  return settled;
}

export function joined(a: Settled, b: Settled): Settled {
  const refused = [...new Map([...a.refused, ...b.refused].map((row) => [row.id, row])).values()];
  return { events: [...a.events, ...b.events], sent: [...a.sent, ...b.sent], refused, gone: [...a.gone, ...b.gone] };
}

export function isRefused({ st }: Entry): boolean {
  return st === "refused";
}

/** What a reply brings to be kept. Of an entry an adviser is not shown only its place in the count comes. */
export function rowsOf(changes: Changes, here: Here, seen: (hlc: string) => void): EventRow[] {
  const shown = changes.events.filter(({ st }) => st !== "hidden");
  for (const { ev, eff } of shown) seen(eff?.hlc ?? ev.hlc);
  return shown.filter((entry) => !isRefused(entry)).map((entry) => rowOf(entry, here, changes.now));
}

/** -1: an entry is missing between what this phone has and what came. Otherwise how many entries are news. */
export function newsIn(changes: Changes, cursor: Cursor): number {
  const fresh = changes.events.filter((entry) => entry.seq > cursor.seq);
  const unbroken = fresh.every((entry, i) => entry.seq === cursor.seq + 1 + i);
  const reaches = Math.max(cursor.seq, changes.seq) === cursor.seq + fresh.length;
  return unbroken && reaches ? fresh.length : -1;
}

export function cursorOf({ seq, outlook_rev, signed }: Changes): Cursor {
  return { seq, outlook_rev, ...(signed && { signed }) };
}

/** Never back; what is signed is one pair of numbers, and of a mixture of two nobody can say anything. */
export function further(held: Cursor, changes: Changes): Cursor {
  const came = cursorOf(changes);
  if (came.seq >= held.seq && came.outlook_rev >= held.outlook_rev) return came;
  if (came.seq <= held.seq && came.outlook_rev <= held.outlook_rev) return held;
  return { seq: Math.max(held.seq, came.seq), outlook_rev: Math.max(held.outlook_rev, came.outlook_rev) };
}

interface Here {
  isOwn: (entry: Entry) => boolean;
  textOf: (id: string) => string | undefined;
}

export function rowOf(entry: Entry, { isOwn, textOf }: Here, now: number): EventRow {
  const { ev, seq, st, eff, receipt } = entry;
  const text = textOf(ev.id) ?? JSON.stringify(ev);
  const row = { id: ev.id, text, eff: eff ?? null, own: isOwn(entry), aged_from: now, ...(receipt && { receipt }) };
  return st === "ok" || st === "parked" ? { ...row, st, seq } : { ...row, st: "rejected", seq: 0 };
}

function isTaken(st: string): boolean {
  return st === "ok" || st === "dup" || st === "parked";
}

function ownRow(row: OutboxRow, st: EventRow["st"], answer: Answer, now: number): EventRow {
  const receipt = answer.receipt ?? row.proof?.receipt;
  const eff = answer.eff ?? (answer.receipt ? null : row.proof?.eff) ?? null;
  const seq = st === "rejected" ? 0 : answer.seq ?? 0;
  return { id: row.id, text: row.text, st, seq, eff, own: !row.carried, aged_from: now, ...(receipt && { receipt }) };
}

export function outboxRow(row: Pick<EventRow, "id" | "text">): OutboxRow {
  const { author, device, hlc } = JSON.parse(row.text) as { author: string; device: string; hlc: string };
  return { id: row.id, text: row.text, author, device, hlc, st: "waiting", code: "", why: "" };
}
