import { browserEnv } from "../../core/base/env.ts";
import { reference_text } from "../../core/phone/sync/reference.ts";
import { ruleLabel } from "../words/rules.ts";
import { t } from "../words/text.ts";

type Known = [unit: string, low: number, high: number, source: string, where: string, standing: string];
type Numbers = [value: number, ...Known];

export interface Equation {
  say: string;
  eq?: string;
  /** As they stand in the equation; missing in what an older build wrote. */
  symbols?: [symbol: string, name: string, unit: string][];
  args?: [name: string, unit: string, range: string, note: string][];
  gives?: string;
  valid?: string;
  accuracy?: string;
  refs?: string;
  params: string[];
  uses: string[];
}

/** What frontend/reference writes. */
export interface Reference {
  science: string;
  /** Of the list a citation is a place in; an outlook with another mark cites something else. */
  mark: string;
  topics: Record<string, [name: string, about: string, group: string]>;
  equations: Record<string, Equation>;
  params: Record<string, Record<string, Numbers>>;
  ranges: Record<string, Known>;
  sources: Record<string, [title: string, authors: string, where: string]>;
  rules: Record<string, [standard: number, unit: string, low: number, high: number, source: string, standing: string]>;
  numbers: Record<string, [value: number | string, ...Known]>;
  /** What has a name in code, and a unit with short forms in it, in words. */
  names?: Record<string, string>;
  units?: Record<string, string>;
  feeds: {
    columns: string[];
    origins: [standing: string, source: string][];
    sources: Record<string, [title: string, author: string, where: string]>;
    rows: Record<string, [name: string, kind: string, note: string, figures: (number | null)[], origins: number[]]>;
  };
  distances: [what: string, kg: number, system: string, theirs: number, ours: number, unit: string][];
}

let held = $state.raw<Reference | null | undefined>(undefined);
let asked = false;

/** Undefined while it is being read, null where there is none. */
export function reference(): Reference | null | undefined {
  if (!asked) {
    asked = true;
    void reference_text(browserEnv()).then((found) => (held = found as Reference | null));
  }
  return held;
}

const lists = new WeakMap<Reference, string[]>();

/** Everything a citation may name, in the order the science has it: equations, then numbers. */
export function cites_of(of: Reference): string[] {
  const numbers = () =>
    Object.entries(of.params).flatMap(([topic, all]) => Object.keys(all).map((name) => `${topic}.${name}`));
  if (!lists.has(of)) lists.set(of, [...Object.keys(of.equations).sort(), ...numbers().sort()]);
  return lists.get(of)!;
}

export const words = (name: string) => name.replaceAll("_", " ");
/** A parameter (topic.name), an argument, a number or a column as a reader calls it. */
export const called = ({ names }: Reference, name: string) =>
  names?.[name] ?? words(name.slice(name.indexOf(".") + 1));

/** Units that say by how much their number is multiplied. */
const TIMES: [unit: RegExp, by: number, instead: string][] = [
  [/^permille\b/, 10, "%"], [/^degrees C x 10$/, 10, "°C"], [/^condition x 100$/, 100, "points"],
  [/^points x 100$/, 100, "points"], [/^kids x 100$/, 100, "kids"], [/ x 10$/, 10, ""], [/ x 100$/, 100, ""],
];

/** A number with its unit as a reader takes it: "35 %" for 350 permille; several numbers in a text alike. */
export function figure({ units }: Reference, value: number | string, unit: string): string {
  const [found, by, instead] = TIMES.find(([name]) => name.test(unit)) ?? [/$/, 1, ""];
  const worth = String(value).replace(/\d+(\.\d+)?/g, (number) => String(Number((Number(number) / by).toFixed(4))));
  const plain = unit === "1" || unit === "ratio" ? "" : (units?.[unit] ?? unit).replace(found, instead);
  return `${worth} ${plain}`.trim();
}
/** A unit by itself. */
export const inUnit = (of: Reference, unit: string) => figure(of, "", unit);
export const topicOf = (key: string) => key.slice(0, key.lastIndexOf("."));
/** Keys of the sources a reference line names: "sahlu2004, abstract; judgement for the slide". */
export const sourcesOf = (refs: string | undefined) =>
  (refs ?? "")
    .split(";")
    .map((part) => part.trim())
    .filter(Boolean);
export const keyOf = (ref: string) => /^\w+/.exec(ref)?.[0] ?? "";

export interface Hit {
  path: string[];
  title: string;
  note: string;
  text: string;
}

/** Everything that can be looked for, with the words it is found by. */
export function index({ topics, equations, rules, feeds, sources }: Reference): Hit[] {
  const hit = (path: string[], title: string, note: string, more = ""): Hit => ({
    path, title, note, text: `${title} ${note} ${more}`.toLowerCase(),
  });
  return [
    ...Object.entries(equations).map(([key, { say, eq, refs }]) =>
      hit(["eq", key], say, topics[topicOf(key)]?.[0] ?? "", `${words(key)} ${eq} ${refs}`),
    ),
    ...Object.entries(feeds.rows).map(([key, [name, kind, note]]) =>
      hit(["feed", key], name, t(`class.${kind}`), note),
    ),
    ...Object.entries(rules).map(([key, [, , , , source]]) =>
      hit(["rules"], ruleLabel(key), "", `${words(key)} ${source}`),
    ),
    ...Object.entries(sources).map(([key, [title, authors]]) => hit(["sources"], title, authors, key)),
  ];
}

export function found(all: Hit[], asked_for: string): Hit[] {
  const parts = asked_for.toLowerCase().split(/\s+/).filter(Boolean);
  return parts.length ? all.filter(({ text }) => parts.every((part) => text.includes(part))) : [];
}
