import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import type { Envelope, Json } from "../../src/core/events/events.ts";
import { CHAIN_KINDS, VERSIONS } from "../../src/core/events/kinds.ts";
import { BEA, DOE } from "./farm.ts";
import { START_MS } from "./phone.ts";

/** Entries for fast-check that a farm's server let in though nobody should have recorded them. Each as its text. */
const VECTORS = new URL("../../../tests/vectors/events/", import.meta.url);
const GOLDEN = readdirSync(VECTORS).map((file) => {
  const { event } = JSON.parse(readFileSync(new URL(file, VECTORS), "utf8")) as { event: Envelope };
  return { kind: event.kind, v: event.v, data: event.data };
});
const NAMES = ["__proto__", "constructor", "prototype", "toString", "hasOwnProperty", "f", "of", "data", ""];
const SUBJECTS = [DOE, BEA, "66666666-6666-4666-8666-666666666666", "constructor", "__proto__"];
const MOST = 8;
const LATEST_MS = 253_402_300_799_000;

const name = fc.oneof(fc.constantFrom(...NAMES), fc.string({ maxLength: 4 }));
const scalar = fc.oneof(
  fc.constant(null), fc.boolean(), fc.integer(), fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.constantFrom(2 ** 53, 2 ** 53 + 2, 1e300, -0, 0.5, 1e15), fc.constantFrom(...NAMES),
  fc.constantFrom("2026-02-30", "9999-12-31", "a|b", "\u2028", "\u202e", "\ud800", "\0", "x".repeat(3000)),
);
const { value } = fc.letrec<{ value: Json }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 4, withCrossShrink: true }, scalar, fc.array(tie("value"), { maxLength: 3 }),
    fc.array(fc.tuple(name, tie("value")), { maxLength: 3 }).map((pairs) => table(pairs)),
  ),
}));

/** With names of its own, `__proto__` among them, as JSON.parse makes them. */
function table(pairs: [string, Json][]): { [key: string]: Json } {
  const inner = pairs.map(([key, one]) => `${JSON.stringify(key)}:${JSON.stringify(one)}`);
  return JSON.parse(`{${inner.join(",")}}`) as { [key: string]: Json };
}

const tables = fc.array(fc.tuple(name, value), { maxLength: 4 }).map(table);
const deep = fc.tuple(fc.constantFrom(5, 30, 300, 3000), fc.boolean()).map(([times, list]) => {
  const [open, close] = list ? ["[", "]"] : ['{"__proto__":', "}"];
  return JSON.parse(`{"x":${open.repeat(times)}1${close.repeat(times)}}`) as Json;
});
const golden = fc.constantFrom(...GOLDEN);
const unknown = fc.record({
  kind: fc.constantFrom("sheared", "constructor", "__proto__", ...Object.keys(VERSIONS)),
  v: fc.integer({ min: 9, max: 1000 }),
  data: fc.oneof(tables, deep, golden.map(({ data }) => data as Json)),
});
const spoiled = fc.tuple(golden, fc.nat(), name, value, fc.boolean()).map(([made, at, other, odd, own]) => {
  const names = Object.keys(made.data);
  const key = own && names.length ? names[at % names.length]! : other;
  const rest = Object.entries(made.data).filter(([held]) => held !== key);
  return { ...made, data: table([...rest, [key, odd]]) };
});
const whole = fc.tuple(golden, value).map(([made, data]) => ({ ...made, data }));
const link = fc.tuple(fc.constantFrom(...CHAIN_KINDS), fc.nat({ max: MOST - 1 }), fc.oneof(tables, value)).map(
  ([kind, of, data]) => ({ kind, v: 1, data: { of: id_of(of), ...(kind === "correct" && { data }) } }),
);
const moved = fc.tuple(golden, fc.constantFrom(
  { happened: 0 }, { happened: LATEST_MS }, { on: "0001-01-01" }, { on: "9999-12-31" }, { on: "x" }, { slot: "noon" },
  { hlc: "000000000000-0000-00000000" }, { hlc: "ffffffffffff-ffff-ffffffff" }, { v: 0.5 }, { author: null },
)).map(([made, odd]) => ({ ...made, ...odd }));

type Part = { kind: string; v: number; data: unknown };

export function id_of(n: number): string {
  return `0190f3a2-0000-7000-8000-${String(n).padStart(12, "0")}`;
}

function event(part: Part, n: number, subject: string): string {
  const hlc = `${START_MS.toString(16).padStart(12, "0")}-${(100 + n).toString(16).padStart(4, "0")}-bbbbbbbb`;
  const at = START_MS + n;
  return JSON.stringify({
    id: id_of(n), subject, on: "2026-11-02", slot: "", happened: at, entered: at, hlc, author: BEA, device: BEA,
    ...part,
  });
}

const part = fc.oneof<fc.Arbitrary<Part>[]>(unknown, spoiled, whole, link, moved, golden);
/** A log of others' entries. None of them is about the farm's own sound doe. */
export const logs: fc.Arbitrary<string[]> = fc
  .array(fc.tuple(part, fc.constantFrom(...SUBJECTS)), { minLength: 1, maxLength: MOST })
  .map((made) => made.map(([one, subject], n) => event(one, n, subject)));
