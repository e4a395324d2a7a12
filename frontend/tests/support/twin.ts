/** Reads generated cases from a file, one a line, and says where this twin differs from Python. `node twin.ts FILE` */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import type { Book } from "../../src/core/book.ts";
import { canonical } from "../../src/core/canonical.ts";
import { evaluate } from "../../src/core/evaluate.ts";
import { effective, type Effective, type Envelope } from "../../src/core/events.ts";
import { fold } from "../../src/core/fold.ts";
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

function compare(given: Case): string | null {
  try {
    const view = fold(given.log.map(({ ev, eff }) => upcast(effective(ev, eff))));
    const results = evaluate(view, given.outlooks, given.book, given.day);
    return difference("view", canonical(view), given.view) ?? difference("results", canonical(results), given.results);
  } catch (error) {
    return error instanceof Error ? error.stack! : String(error);
  }
}

const seen = { cases: 0, differ: [] as string[] };
for await (const line of createInterface({ input: createReadStream(process.argv[2]!) })) {
  const given = JSON.parse(line) as Case;
  const found = compare(given);
  seen.cases++;
  if (found) seen.differ.push(`case ${given.n}: ${found}`);
}
console.log(JSON.stringify(seen));
