import { byCodePoint } from "./order.ts";

/** One text per value: sorted keys, no spaces, integers only. Twin of canonical() in herd/state/canonical.py. */
export function canonical(value: unknown): string {
  if (value === null || typeof value === "boolean" || typeof value === "string") return JSON.stringify(value);
  if (typeof value === "number") return integer(value);
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  const map = value as Record<string, unknown>;
  return `{${Object.keys(map)
    .sort(byCodePoint)
    .map((key) => `${JSON.stringify(key)}:${canonical(map[key])}`)
    .join(",")}}`;
}

function integer(value: number): string {
  if (!Number.isSafeInteger(value)) throw new TypeError(`not a safe integer: ${value}`);
  return String(value === 0 ? 0 : value);
}
