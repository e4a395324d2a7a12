import { crc32 } from "../base/crc32.ts";
import type { Envelope } from "../events/events.ts";
import { ALL, type FarmStore } from "./store/farm_store.ts";
import type { EventRow, OutboxRow } from "./store/rows.ts";
import { outboxRow } from "./store/settle.ts";

/**
 * A file of entries that no server has, to be carried to another phone. One line each, a line being its check sum
 * (`crc32`), a space, and a text: first the head as JSON, then each entry to the byte as it was serialised when it was
 * recorded. Ids stay, so loading it twice, or on two phones, changes nothing.
 */
const FORMAT = "mangerline-entries/1";
const SUM = /^([0-9a-f]{8}) (.*)$/s;

export interface Head {
  format: string;
  farm: string;
  farm_name: string;
  person: string;
  who: string;
  at: number;
  n: number;
}

export interface Carried {
  head: Head;
  /** Each entry that arrived whole. */
  texts: string[];
  damaged: number;
  /** When the first and the last of them were written down. */
  since: number;
  until: number;
}

export function to_file(texts: string[], of: Omit<Head, "format" | "n">): string {
  const head = JSON.stringify({ format: FORMAT, ...of, n: texts.length });
  return [head, ...texts].map((text) => `${crc32(text)} ${text}\n`).join("");
}

/** Null where it is no such file, or its head cannot be read. */
export function from_file(file: string): Carried | null {
  const [first = "", ...lines] = file.split(/\r?\n/);
  const head = head_of(whole(first));
  if (!head) return null;
  const texts = lines.flatMap((line) => whole(line) ?? []).filter((text) => entry_of(text));
  const entered = texts.map((text) => entry_of(text)!.entered).sort((a, b) => a - b);
  const damaged = Math.max(0, head.n - texts.length);
  return { head, texts, damaged, since: entered[0] ?? 0, until: entered.at(-1) ?? 0 };
}

function whole(line: string): string | null {
  const [, sum, text] = SUM.exec(line) ?? [];
  return text !== undefined && crc32(text) === sum ? text : null;
}

function head_of(text: string | null): Head | null {
  const head = parsed(text) as Head | null;
  return head?.format === FORMAT && Number.isSafeInteger(head.n) ? head : null;
}

function entry_of(text: string): Envelope | null {
  const event = parsed(text) as Envelope | null;
  const told = [event?.id, event?.author, event?.device, event?.hlc].every((part) => typeof part === "string");
  return told && Number.isSafeInteger(event?.entered) ? event : null;
}

function parsed(text: string | null): unknown {
  try {
    return text === null ? null : JSON.parse(text);
  } catch {
    return null;
  }
}

/** Into this phone's outbox, each still its author's. Says how many were not here already. */
export function carry(store: FarmStore, { texts }: Carried): Promise<number> {
  return store.connection.write(ALL, async (tx) => {
    let n = 0;
    for (const text of texts) {
      const { id, entered } = entry_of(text)!;
      if (await tx.objectStore("events").get(id)) continue;
      const row: EventRow = { id, text, st: "waiting", seq: 0, eff: null, own: false, aged_from: entered };
      const waiting: OutboxRow = { ...outboxRow(row), carried: true };
      await tx.objectStore("events").put(row);
      await tx.objectStore("outbox").put(waiting);
      n++;
    }
    return n;
  });
}
