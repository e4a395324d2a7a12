/**
 * Reads farms from a file, one a line, and says how much work lies between two breaths of a search for acts, and in the
 * whole of it: look-ups of what is kept of a farm, which no machine does faster than another. `node acts_steps.ts FILE`
 */
import { readFileSync } from "node:fs";
import { acts_in_steps } from "../../src/core/outlook/acts/search.ts";
import { Context } from "../../src/core/outlook/ground/context.ts";
import type { Outlook } from "../../src/core/outlook/ground/documents.ts";
import type { Book } from "../../src/core/outlook/ground/herd_figures.ts";
import { Memo } from "../../src/core/outlook/ground/memo.ts";
import type { View } from "../../src/core/state/view.ts";

type Farm = [view: View, outlooks: Record<string, Outlook>, book: Book, day: string];

let looked = 0;
const once = Memo.prototype.once;
Memo.prototype.once = function (...asked: Parameters<typeof once>) {
  looked += 1;
  return once.apply(this, asked);
};

function searched(ctx: Context, subject: string): { steps: number; most: number; all: number } {
  const work = acts_in_steps(ctx, subject);
  const [began, found] = [looked, { steps: 0, most: 0, all: 0 }];
  for (let done: boolean | undefined = false; !done; found.steps++) {
    const before = looked;
    done = work.next().done;
    found.most = Math.max(found.most, looked - before);
  }
  return { ...found, all: looked - began };
}

const lines = readFileSync(process.argv[2]!, "utf8").split("\n").filter(Boolean);
const farms = lines.map((line) => JSON.parse(line) as Farm);
const of_farm = ([view, outlooks, book, day]: Farm) =>
  [...Object.keys(view.does), ...Object.keys(view.pens)].map((subject) =>
    searched(new Context(view, outlooks, book, day), subject));
process.stdout.write(JSON.stringify(farms.flatMap(of_farm)));
