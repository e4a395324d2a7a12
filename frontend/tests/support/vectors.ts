import { readdirSync, readFileSync } from "node:fs";

const FOLDER = new URL("../../../tests/vectors/", import.meta.url);

/** Every shared case of a kind, the same files Python reads; none at all is an error. */
export function cases<T>(kind: string): T[] {
  const folder = new URL(`${kind}/`, FOLDER);
  const files = readdirSync(folder).filter((name) => name.endsWith(".json")).sort();
  if (files.length === 0) throw new Error(`no vectors in ${folder.pathname}`);
  return files.map((name) => JSON.parse(readFileSync(new URL(name, folder), "utf8")) as T);
}

/** The value at a dotted path; numbers index lists. */
export function at(value: unknown, path: string): unknown {
  return path.split(".").reduce((inner, key) => (inner as Record<string, unknown>)[key], value);
}
