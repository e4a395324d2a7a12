import type { Json } from "./events.ts";
import { isDate } from "../base/days.ts";
import { PATTERNS, type Field } from "../tables/forms.ts";
import { isMapping } from "./values.ts";

/**
 * What is wrong with one value, as a code and its limits: the catalogue of texts says it in words. Twin of
 * herd/state/checks.py.
 */
export interface Fault {
  code: "whole" | "range" | "step" | "text" | "too_long" | "empty" | "choice" | "flag" | "day" | "id" | "code" | "stamp"
    | "unknown_sign" | "sign_twice" | "number" | "count" | "nothing";
  low?: number;
  high?: number;
}
type Value = Json | undefined;

const CONTROL = /[\x00-\x08\x0b-\x1f\x7f]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;
const WHOLE = Object.fromEntries(Object.entries(PATTERNS).map(([name, text]) => [name, new RegExp(`^(?:${text})$`)]));

/** Feeds and rules are asked for by name, all else by a mark nobody types. */
function told(pattern: keyof typeof PATTERNS): Fault["code"] {
  return pattern === "rule" ? "code" : pattern === "sha256" ? "id" : pattern;
}

export function fits(pattern: keyof typeof PATTERNS, value: Value): value is string {
  return typeof value === "string" && WHOLE[pattern]!.test(value);
}

/** Null when a value is what its field may hold. Rows are looked into by whoever knows where they stand. */
export function fault_in(field: Field, value: Value): Fault | null {
  switch (field[0]) {
    case "or": return value === field[1] ? null : fault_in(field[2], value);
    case "may": return fault_in(field[1], value);
    case "whole": return whole(value, field[1], field[2], field[3]);
    case "text": return text(value, field[1], field[2]);
    case "choice": return typeof value === "string" && field[1].includes(value) ? null : { code: "choice" };
    case "codes": return codes(value, field[1]);
    case "flag": return typeof value === "boolean" ? null : { code: "flag" };
    case "day": return isDate(value) ? null : { code: "day" };
    case "content": return isMapping(value) ? null : { code: "nothing" };
    case "match": return fits(field[1], value) ? null : { code: told(field[1]) };
    case "feeds": return listed(value, "code", field[1]);
    case "ids": return listed(value, "id", field[1]);
    case "numbers": return numbers(value, field[1], field[2], field[3]);
    case "rows": {
      const good = Array.isArray(value) && value.length > 0 && value.length <= field[1];
      return good ? null : { code: "count", low: 1, high: field[1] };
    }
  }
}

function whole(value: Value, low: number, high: number, step = 1): Fault | null {
  if (typeof value !== "number" || !Number.isSafeInteger(value)) return { code: "whole" };
  if (value < low || value > high) return { code: "range", low, high };
  return value % step ? { code: "step", low: step } : null;
}

function text(value: Value, low: number, high: number): Fault | null {
  if (typeof value !== "string" || CONTROL.test(value)) return { code: "text" };
  if ([...value].length > high) return { code: "too_long", high };
  return [...value.trim()].length < low ? { code: "empty" } : null;
}

function listed(value: Value, of: "code" | "id", most: number): Fault | null {
  const good = Array.isArray(value) && value.length <= most && value.every((item) => fits(of, item));
  return good ? twice(value) : { code: of };
}

function numbers(value: Value, most: number, low: number, high: number): Fault | null {
  if (!Array.isArray(value) || value.length < 1 || value.length > most) return { code: "count", low: 1, high: most };
  return value.map((one) => whole(one, low, high)).find((fault) => fault !== null) ?? null;
}

function codes(value: Value, options: readonly string[]): Fault | null {
  if (!Array.isArray(value) || !value.every((code) => typeof code === "string" && options.includes(code))) {
    return { code: "unknown_sign" };
  }
  return twice(value);
}

function twice(value: Json[]): Fault | null {
  return new Set(value).size < value.length ? { code: "sign_twice" } : null;
}
