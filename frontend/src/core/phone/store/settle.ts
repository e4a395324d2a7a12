import type { Answer, Changes, Entry } from "../sync/wire.ts";
import type { Cursor, EventRow, OutboxRow } from "./rows.ts";

/** Pure: what a reply does to the rows on this phone. The store writes it, memory shows it. */
export interface Settled {
  events: EventRow[];
  sent: string[];
  refused: OutboxRow[];
}

export function settleAnswers(batch: OutboxRow[], answers: Answer[], now: number): Settled {
  const said = new Map(answers.map((answer) => [answer.id, answer]));
  const settled: Settled = { events: [], sent: [], refused: [] };
  for (const row of batch) {
    const answer = said.get(row.id);
    if (answer?.st === "rejected") {
      settled.refused.push({ ...row, st: "rejected", code: answer.code ?? "rejected", why: answer.why ?? "" });
      settled.events.push(ownRow(row, "rejected", answer, now));
    } else if (answer && isTaken(answer.st)) {
      settled.sent.push(row.id);
      settled.events.push(ownRow(row, answer.st === "parked" ? "parked" : "ok", answer, now));
    }
  }
  return settled;
}

/** -1: an entry is missing between what this phone has and what came. Otherwise how many entries are news. */
export function newsIn(changes: Changes, cursor: Cursor): number {
  const fresh = changes.events.filter((entry) => entry.seq > cursor.seq);
  const unbroken = fresh.every((entry, i) => entry.seq === cursor.seq + 1 + i);
  const reaches = Math.max(cursor.seq, changes.seq) === cursor.seq + fresh.length;
  return unbroken && reaches ? fresh.length : -1;
}

interface Here {
  isOwn: (entry: Entry) => boolean;
  textOf: (id: string) => string | undefined;
}

export function rowOf(entry: Entry, { isOwn, textOf }: Here, now: number): EventRow {
  const { ev, seq, st, eff } = entry;
  const text = textOf(ev.id) ?? JSON.stringify(ev);
  return { id: ev.id, text, st, seq, eff: eff ?? null, own: isOwn(entry), aged_from: now };
}

function isTaken(st: string): boolean {
  return st === "ok" || st === "dup" || st === "parked";
}

function ownRow(row: OutboxRow, st: EventRow["st"], answer: Answer, now: number): EventRow {
  return { id: row.id, text: row.text, st, seq: answer.seq ?? 0, eff: answer.eff ?? null, own: true, aged_from: now };
}
