import { canonical } from "../events/canonical.ts";
import type { Envelope, Json } from "../events/events.ts";
import { mapping, text } from "../events/values.ts";
import type { Fields, Question, Side } from "./view.ts";

/**
 * Record fields: per field the greatest stamp wins; where a wrong winner can hurt, a question. Twin of
 * herd/state/records.py.
 */
const HIGH_STAKES: Record<string, Set<string> | null> = {
  doe: new Set(["tag", "size", "born_on", "mature_kg", "growing", "kiddings_before", "fat_x100", "sex"]),
  pen: new Set(),
  feed: new Set(),
  lot: new Set(["feed"]),
  contact: new Set(),
  shelf: new Set(["told"]),
  scoop: new Set(["feed"]),
  jar: new Set(),
  pack: new Set(),
  rules: null,
};
const SILENT_RULES = new Set(["units", "flake_word"]);

/** Writes arrive in the order of their stamps. */
export function write_record(record: Fields, event: Envelope, questions: Map<string, Question>): void {
  const base = mapping(event.data, "base");
  for (const [field, value] of Object.entries(mapping(event.data, "f"))) {
    const held = record.f[field];
    const stamp = record.stamp[field] ?? "";
    const key = `field|${event.subject}|${field}`;
    if (stamp && text(base, field) !== stamp && !same(held!, value) && hurts(event.kind, field)) {
      const values = [side(held!, stamp, record.by[field]!), side(value, event.hlc, event.id)];
      questions.set(key, { kind: "field", subject: event.subject, field, values });
    } else if (text(base, field) === stamp) {
      questions.delete(key);
    }
    record.f[field] = value;
    record.stamp[field] = event.hlc;
    record.by[field] = event.id;
  }
}

function hurts(kind: string, field: string): boolean {
  const fields = HIGH_STAKES[kind];
  return fields ? fields.has(field) : !SILENT_RULES.has(field);
}

export function same(a: Json, b: Json): boolean {
  return a === b || (typeof a === "object" && typeof b === "object" && canonical(a) === canonical(b));
}

export function side(value: Json, stamp: string, ev: string): Side {
  return { value, stamp, ev };
}
