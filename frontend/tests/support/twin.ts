/** Reads generated cases from a file, one a line, and says where this twin differs from Python. `node twin.ts FILE` */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import type { Book } from "../../src/core/book.ts";
import { canonical } from "../../src/core/canonical.ts";
import { evaluate } from "../../src/core/evaluate.ts";
import { effective, type Effective, type Envelope } from "../../src/core/events.ts";
import { extended, latest_of } from "../../src/core/extend.ts";
import { fold } from "../../src/core/fold.ts";
import { MEAL_KINDS, OF_DOE_KINDS } from "../../src/core/kinds.ts";
import { byHappened } from "../../src/core/order.ts";
import { Context } from "../../src/core/outlook/context.ts";
import { Evaluation } from "../../src/core/outlook/evaluation.ts";
import type { Outlook } from "../../src/core/outlook/shapes.ts";
import { upcast } from "../../src/core/state/upcast.ts";

interface Case {
  n: number;
  log: { ev: Envelope; eff: Effective | null }[];
  outlooks: Record<string, Outlook>;
  book: Book;
  day: string;
  view: string;
  results: string;
}

const around = (text: string, at: number) => text.slice(Math.max(0, at - 60), at + 60);

function difference(name: string, here: string, there: string): string | null {
  if (here === there) return null;
  let at = 0;
  while (here[at] === there[at]) at++;
  return `${name}: here ...${around(here, at)}... there ...${around(there, at)}...`;
}

const seen = { cases: 0, stepped: 0, differ: [] as string[] };

function compare(given: Case): string | null {
  try {
    const events = given.log.map(({ ev, eff }) => upcast(effective(ev, eff)));
    const view = fold(events);
    const results = evaluate(view, given.outlooks, given.book, given.day);
    return (
      difference("view", canonical(view), given.view) ?? difference("results", canonical(results), given.results) ??
      stepped(given, events)
    );
  } catch (error) {
    return error instanceof Error ? error.stack! : String(error);
  }
}

const MOST_STEPS = 3;

/** The quick way after a tap must come to where the long way comes: the last entries taken away, and put back one by one. */
function stepped(given: Case, events: Envelope[]): string | null {
  const named = new Set(events.flatMap(({ data }) => [data["of"], data["fed"]]));
  const last = [...events].sort(byHappened).slice(-MOST_STEPS);
  const taps = last.slice(1 + last.findLastIndex((event) => named.has(event.id) || !quick(event)));
  const before = events.filter((event) => !taps.includes(event));
  let [view, latest] = [fold(before), latest_of(before)];
  let held: Evaluation | null = new Evaluation(new Context(view, given.outlooks, given.book, given.day), rethrow);
  held.results();
  for (const tap of taps) {
    const more = extended(view, latest, tap);
    held = more && held.after(more, [tap]);
    if (more === null || held === null) return null;
    [view, latest] = [more, tap];
    // as on a phone: the tapped doe first, then as far as there is time before the next tap
    held.first(tap.subject);
    const work = held.steps([]);
    for (let step = 0; step < 2; step++) work.next();
  }
  if (taps.length) seen.stepped++;
  return (
    difference("stepped view", canonical(view), given.view) ??
    difference("stepped results", canonical(held.results()), given.results)
  );
}

/** Anything else is folded and judged from the beginning anyway. */
function quick({ kind }: Envelope): boolean {
  return ([...MEAL_KINDS, ...OF_DOE_KINDS, "round", "freeze"] as string[]).includes(kind);
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
console.log(JSON.stringify(seen));
