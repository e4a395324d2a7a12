import { canonical } from "../events/canonical.ts";
import type { Envelope, Json } from "../events/events.ts";
import { byCodePoint } from "../events/order.ts";
import { mapping, text } from "../events/values.ts";
import { CAREFUL, EVERY_BUT } from "../tables/forms.ts";
import type { Fields, Question, Side } from "./view.ts";

const LATER = "later";

/**
 * Record fields: per field the greatest stamp wins; where a wrong winner can hurt, a question, and the careful one of
 * the two counts until somebody has chosen. Writes arrive in the order of their stamps. The stamp is always the last
 * write's: whoever writes in sight of it has seen both, and settles the question. Twin of herd/state/records.py.
 */
export function write_record(record: Fields, event: Envelope, questions: Map<string, Question>): void {
  const base = mapping(event.data, "base");
  for (const [field, value] of Object.entries(mapping(event.data, "f"))) {
    const held = record.f[field];
    const stamp = record.stamp[field] ?? "";
    const [key, careful] = [`field|${event.subject}|${field}`, careful_of(event.kind, field)];
    let stays = false;
    if (careful && stamp && text(base, field) !== stamp && !same(held!, value)) {
      const values = [side(held!, stamp, record.by[field]!), side(value, event.hlc, event.id)];
      questions.set(key, { kind: "field", subject: event.subject, field, values });
      stays = is_more_careful(careful, held!, value);
    } else if (text(base, field) === stamp) {
      questions.delete(key);
    }
    record.stamp[field] = event.hlc;
    if (!stays) [record.f[field], record.by[field]] = [value, event.id];
  }
}

/** Which of two values is the careful one; "" where the wrong one hurts nobody. */
function careful_of(kind: string, field: string): string {
  const fields = CAREFUL[kind] ?? {};
  const otherwise = EVERY_BUT[kind]?.includes(field) === false ? LATER : "";
  return Object.hasOwn(fields, field) ? fields[field]! : otherwise;
}

function is_more_careful(careful: string, held: Json, value: Json): boolean {
  if (careful === LATER || typeof held !== typeof value || !["boolean", "number", "string"].includes(typeof held))
    return false;
  const sign = typeof held === "string" ? byCodePoint(held, value as string) : Number(held) - Number(value);
  return careful === "less" ? sign < 0 : sign > 0;
}

export function same(a: Json, b: Json): boolean {
  return a === b || (typeof a === "object" && typeof b === "object" && canonical(a) === canonical(b));
}

export function side(value: Json, stamp: string, ev: string): Side {
  return { value, stamp, ev };
}
