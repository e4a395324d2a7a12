/** Reads generated cases from a file, one a line, and says where this twin differs from Python. `node twin.ts FILE` */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import type { Book } from "../../src/core/book.ts";
import { canonical } from "../../src/core/canonical.ts";
import { evaluate } from "../../src/core/evaluate.ts";
import { effective, type Effective, type Envelope } from "../../src/core/events.ts";
import { extended, latest_of } from "../../src/core/extend.ts";
import { fold } from "../../src/core/fold.ts";
import { Context } from "../../src/core/outlook/context.ts";
import { isLocal, re_evaluated } from "../../src/core/outlook/partial.ts";
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

/** The quick way after a tap must come to where the long way comes: the last entry taken away, and put back by it. */
function stepped(given: Case, events: Envelope[]): string | null {
  const last = latest_of(events)!;
  const named = events.some(({ data }) => [data["of"], data["fed"]].includes(last.id));
  if (named || !isLocal(last)) return null;
  const before = events.filter(({ id }) => id !== last.id);
  const view = extended(fold(before), latest_of(before), last);
  if (view === null) return null;
  seen.stepped++;
  const held = evaluate(fold(before), given.outlooks, given.book, given.day);
  const results = re_evaluated(new Context(view, given.outlooks, given.book, given.day), held, [last]);
  return (
    difference("stepped view", canonical(view), given.view) ??
    difference("stepped results", canonical(results), given.results)
  );
}

for await (const line of createInterface({ input: createReadStream(process.argv[2]!) })) {
  const given = JSON.parse(line) as Case;
  const found = compare(given);
  seen.cases++;
  if (found) seen.differ.push(`case ${given.n}: ${found}`);
}
console.log(JSON.stringify(seen));
