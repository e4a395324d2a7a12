import type { Data, Envelope, Json } from "./events.ts";

/**
 * Reading payload values: what is not of the kind asked for counts as nothing, in both languages. Twin of
 * herd/state/order.py.
 */
export function whole(data: Data, key: string): number {
  const value = data[key];
  return typeof value === "number" && Number.isSafeInteger(value) ? value : 0;
}

export function text(data: Data, key: string): string {
  const value = data[key];
  return typeof value === "string" ? value : "";
}

export function truth(data: Data, key: string): boolean {
  return data[key] === true;
}

export function rows(data: Data, key: string): Data[] {
  const value = data[key];
  return Array.isArray(value) ? value.filter(isMapping) : [];
}

export function mapping(data: Data, key: string): Data {
  const value = data[key];
  return isMapping(value) ? value : {};
}

/** What an event says; nothing when that is no object. */
export function content({ data }: Envelope): Data {
  return isMapping(data) ? data : {};
}

export function isMapping(value: Json | undefined): value is Data {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** A table keyed by what people wrote: no inherited names such as "constructor" can be found in it. */
export function table<T>(): Record<string, T> {
  return Object.create(null) as Record<string, T>;
}
