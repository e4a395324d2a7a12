/**
 * Reads generated cases from a file, one a line, and says where the fold differs from Python's, and where what is
 * judged in steps differs from the whole. `node twin.ts FILE`
 */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import type { Book } from "../../src/core/outlook/ground/herd_figures.ts";
import { canonical } from "../../src/core/events/canonical.ts";
import { evaluate } from "../../src/core/outlook/whole/evaluate.ts";
import { effective, type Data, type Effective, type Envelope } from "../../src/core/events/events.ts";
import { extended, latest_of } from "../../src/core/state/extend.ts";
import { fold } from "../../src/core/state/fold.ts";
import { CHAIN_KINDS, MEAL_KINDS, OF_DOE_KINDS } from "../../src/core/events/kinds.ts";
import { byHappened } from "../../src/core/events/order.ts";
import { Context, shift } from "../../src/core/outlook/ground/context.ts";
import { Evaluation } from "../../src/core/outlook/whole/evaluation.ts";
import { prompt_at } from "../../src/core/outlook/whole/in_time.ts";
import type { DoeResult } from "../../src/core/outlook/ground/shapes.ts";
import type { Outlook } from "../../src/core/outlook/ground/documents.ts";
import { upcast } from "../../src/core/events/upcast.ts";

interface Case {
  n: number;
  log: { ev: Envelope; eff: Effective | null }[];
  outlooks: Record<string, Outlook>;
  book: Book;
  day: string;
  view: string;
}

const around = (text: string, at: number) => text.slice(Math.max(0, at - 60), at + 60);

function difference(name: string, here: string, there: string): string | null {
  if (here === there) return null;
  let at = 0;
  while (here[at] === there[at]) at++;
  return `${name}: here ...${around(here, at)}... there ...${around(there, at)}...`;
}

const seen = { cases: 0, stepped: 0, changed: 0, planned: 0, differ: [] as string[] };
const said = new Set<string>();

function compare(given: Case): string | null {
  try {
    const events = given.log.map(({ ev, eff }) => upcast(effective(ev, eff)));
    const view = fold(events);
    const results = evaluate(view, given.outlooks, given.book, given.day);
    for (const result of Object.values(results.does)) hear(result, given.day);
    return (
      difference("view", canonical(view), given.view) ?? stepped(given, events, canonical(results)) ??
      changed(given, events) ?? planned(given, events)
    );
  } catch (error) {
    return error instanceof Error ? error.stack! : String(error);
  }
}

/** What is said of her as the day begins, and in its course. */
function hear(result: DoeResult, day: string): void {
  if (result.prompt) said.add(result.prompt.code);
  for (const { code } of result.first_days) said.add(code);
  for (const hour of ["06", "12", "18"]) {
    const prompt = prompt_at(result, Date.parse(`${day}T${hour}:00:00Z`));
    if (prompt) said.add(prompt.code);
  }
}

const MOST_STEPS = 3;

/**
 * The quick way after a tap must come to where the long way comes: the last entries taken away, and put back one by
 * one.
 */
function stepped(given: Case, events: Envelope[], whole: string): string | null {
  const { before, taps } = parted(events);
  let [view, latest] = [fold(before), latest_of(before)];
  let held: Evaluation | null = new Evaluation(new Context(view, given.outlooks, given.book, given.day), rethrow);
  held.results();
  const known = [...before];
  const log = { counting: () => known, event: (id: string) => known.find((event) => event.id === id) };
  for (const tap of taps) {
    known.push(tap);
    const more = extended(view, latest, tap, log);
    held = more && held.after(more, [tap], log);
    if (more === null || held === null) return null;
    [view, latest] = [more, tap];
    // as on a phone: the tapped doe first, then as far as there is time before the next tap
    held.first(tap.subject);
    const work = held.steps([]);
    for (let step = 0; step < 2; ) if (work.next().value === undefined) step++;
  }
  if (taps.length) seen.stepped++;
  return (
    difference("stepped view", canonical(view), given.view) ??
    difference("stepped results", canonical(held.results()), whole)
  );
}

/** What a phone knew before its last few taps, and those of them that show at once. */
function parted(events: Envelope[]): { before: Envelope[]; taps: Envelope[] } {
  const last = [...events].sort(byHappened).slice(-MOST_STEPS);
  const before = events.filter((event) => !last.includes(event));
  const taps: Envelope[] = [];
  for (const event of last) {
    const named = [...before, ...taps].some(({ data }) => data["of"] === event.id || data["fed"] === event.id);
    if (!named && quick(event)) taps.push(event);
    else before.push(...taps.splice(0), event);
  }
  return { before, taps };
}

/** The same for something seen that is taken back, or put right: with one more entry at the end of a case. */
function changed(given: Case, events: Envelope[]): string | null {
  const seen_things = events.filter((event) =>
    ([...MEAL_KINDS, ...OF_DOE_KINDS, "freeze", "ration"] as string[]).includes(event.kind),
  );
  const target = seen_things[given.n % Math.max(1, seen_things.length)];
  if (!target) return null;
  const latest = latest_of(events)!;
  const change = change_of(target, given.n % 2 === 1, latest.happened + 1);
  const [found, after] = added(given, { known: events, held: judged(given, events) }, change);
  if (after) seen.changed++;
  return found;
}

/** The same for what comes into a plan from tomorrow or today, and goes out of it again. */
function planned(given: Case, events: Envelope[]): string | null {
  const { n, day } = given;
  const held = judged(given, events);
  const { does, pens, rations } = held.ctx.view;
  const subjects = [...Object.keys(does), ...Object.keys(pens)];
  const of = Object.values(rations)[n % Math.max(1, Object.keys(rations).length)];
  const like = events.find(({ kind }) => kind === "ration");
  if (!like || !of) return null;
  const steps = [n % 3 ? 1 : 0, 4].map((ahead, i) => ({ on: shift(day, ahead), g: (n % 2 ? 900 : 60) * (i + 1) }));
  const subject = subjects[n % subjects.length]!;
  const place = { slot: n % 4 ? "morning" : of.slot, feed: of.feed };
  const base = rations[`${subject}|${place.slot}|${place.feed}`]?.hlc ?? "";
  const [stamp, happened] = ["f".repeat(26), latest_of(events)!.happened + 1];
  const data: Data = { ...like.data, ...place, base, steps, wish: "" };
  const put = { ...like, id: "zz-put", subject, hlc: stamp, happened, data };
  const [differs, then] = added(given, { known: events, held }, put);
  if (differs || !then) return differs;
  seen.planned++;
  const out = { ...put, id: "zz-out", kind: "void", v: 1, data: { of: put.id }, hlc: `${stamp}f` };
  return added(given, { known: [...events, put], held: then }, { ...out, happened: happened + 1 })[0];
}

function judged(given: Case, events: Envelope[]): Evaluation {
  const held = new Evaluation(new Context(fold(events), given.outlooks, given.book, given.day), rethrow);
  held.results();
  return held;
}

/** One more entry, the quick way and the long way; null where there is no quick one. */
function added(
  given: Case, { known, held }: { known: Envelope[]; held: Evaluation }, more: Envelope,
): [string | null, Evaluation | null] {
  const all = [...known, more];
  const log = { counting: () => all, event: (id: string) => all.find((event) => event.id === id) };
  const view = extended(held.ctx.view, latest_of(known), more, log);
  const after = view && held.after(view, [more], log);
  if (view === null || after === null) return [null, null];
  const whole = fold(all);
  const results = canonical(evaluate(whole, given.outlooks, given.book, given.day));
  const found = difference(`changed view by ${more.kind}`, canonical(view), canonical(whole)) ??
    difference(`changed results by ${more.kind}`, canonical(after.results()), results);
  return [found, after];
}

function change_of(target: Envelope, taken_back: boolean, happened: number): Envelope {
  const right: Data = { ...target.data, left_pct: 30, g: 777, x100: 325, adds: true };
  const data: Data = taken_back ? { of: target.id } : { of: target.id, data: right };
  const kind = taken_back ? "void" : "correct";
  return { ...target, id: "zz-change", kind, v: 1, data, happened, hlc: "f".repeat(26) };
}

/** Anything else is folded and judged from the beginning anyway. */
function quick({ kind }: Envelope): boolean {
  return ([...MEAL_KINDS, ...OF_DOE_KINDS, ...CHAIN_KINDS, "round", "freeze", "ration"] as string[]).includes(kind);
}

function rethrow(error: unknown): never {
  throw error;
}

for await (const line of createInterface({ input: createReadStream(process.argv[2]!) })) {
  const given = JSON.parse(line) as Case;
  const found = compare(given);
  seen.cases++;
  if (found) seen.differ.push(`case ${given.n}: ${found}`);
}
console.log(JSON.stringify({ ...seen, said: [...said].sort() }));
