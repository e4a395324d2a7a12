import type { Json } from "./events.ts";
import { isDate } from "../base/days.ts";

/**
 * What is wrong with one value, as a code and its limits: the catalogue of texts says it in words. Twin of
 * herd/state/checks.py.
 */
export interface Fault {
  code: "whole" | "range" | "step" | "text" | "too_long" | "empty" | "choice" | "flag" | "day" | "id" | "code" | "stamp"
    | "unknown_sign" | "sign_twice" | "number" | "count";
  low?: number;
  high?: number;
}
export type Check = (value: Json | undefined) => Fault | null;

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const STAMP = /^[0-9a-f]{12}-[0-9a-f]{4}-[0-9a-f]{8}$/;
const CODE = /^[a-z0-9][a-z0-9_-]{0,59}$/;
const CONTROL = /[\x00-\x08\x0b-\x1f\x7f]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

export function whole(low: number, high: number, step = 1): Check {
  return (value) => {
    if (typeof value !== "number" || !Number.isSafeInteger(value)) return { code: "whole" };
    if (value < low || value > high) return { code: "range", low, high };
    return value % step ? { code: "step", low: step } : null;
  };
}

export function text(low: number, high: number): Check {
  return (value) => {
    if (typeof value !== "string" || CONTROL.test(value)) return { code: "text" };
    if ([...value].length > high) return { code: "too_long", high };
    return [...value.trim()].length < low ? { code: "empty" } : null;
  };
}

export function choice(options: readonly string[]): Check {
  return (value) => (typeof value === "string" && options.includes(value) ? null : { code: "choice" });
}

export const flag: Check = (value) => (typeof value === "boolean" ? null : { code: "flag" });
export const day: Check = (value) => (isDate(value) ? null : { code: "day" });
export const ref = match(UUID, "id");
export const feedRef = match(CODE, "code");
export const stampOrBlank = orBlank(match(STAMP, "stamp"));

export function match(pattern: RegExp, code: Fault["code"]): Check {
  return (value) => (typeof value === "string" && pattern.test(value) ? null : { code });
}

export function feedRefs(most: number): Check {
  return (value) => {
    if (!Array.isArray(value) || value.length > most || value.some((item) => feedRef(item))) return { code: "code" };
    return new Set(value).size < value.length ? { code: "sign_twice" } : null;
  };
}

export function orBlank(check: Check): Check {
  return (value) => (value === "" ? null : check(value));
}

export function orZero(check: Check): Check {
  return (value) => (value === 0 ? null : check(value));
}

export function orUnknown(check: Check): Check {
  return (value) => (value === null ? null : check(value));
}

export function numbers(most: number, low: number, high: number): Check {
  const one = whole(low, high);
  return (value) => {
    if (!Array.isArray(value) || value.length < 1 || value.length > most) return { code: "count", low: 1, high: most };
    return value.map(one).find((fault) => fault !== null) ?? null;
  };
}

export function codes(options: readonly string[]): Check {
  return (value) => {
    if (!Array.isArray(value) || !value.every((code) => typeof code === "string" && options.includes(code))) {
      return { code: "unknown_sign" };
    }
    return new Set(value).size < value.length ? { code: "sign_twice" } : null;
  };
}
