/**
 * Reads generated cases from a file, one a line, and says where the explanation differs from Python's. `node why.ts
 * FILE`
 */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import type { Book } from "../../src/core/outlook/herd_figures.ts";
import { canonical } from "../../src/core/events/canonical.ts";
import { effective, type Effective, type Envelope } from "../../src/core/events/events.ts";
import { fold } from "../../src/core/state/fold.ts";
import { sum } from "../../src/core/base/ints.ts";
import { eaten_on } from "../../src/core/outlook/balance.ts";
import { standing } from "../../src/core/outlook/branches.ts";
import { Context, NUTRIENTS } from "../../src/core/outlook/context.ts";
import { doubts } from "../../src/core/outlook/doubts.ts";
import { need_on } from "../../src/core/outlook/needs.ts";
import type { Outlook } from "../../src/core/outlook/shapes.ts";
import { feed_parts, need_terms, told_day, week_days } from "../../src/core/outlook/terms.ts";
import { upcast } from "../../src/core/events/upcast.ts";

interface Case {
  n: number;
  log: { ev: Envelope; eff: Effective | null }[];
  outlooks: Record<string, Outlook>;
  book: Book;
  day: string;
  why: Record<string, string>;
}

const each = (of: (key: (typeof NUTRIENTS)[number]) => unknown) =>
  Object.fromEntries(NUTRIENTS.map((key) => [key, of(key)]));

function why(ctx: Context, id: string): unknown {
  if (standing(ctx, id) !== "ok") return null;
  const [on, planned] = told_day(ctx, id);
  const dm_g = sum(Object.values(eaten_on(ctx, id, on, planned).dm));
  return {
    day: [on, planned], need: need_on(ctx, id, on, dm_g), doubts: doubts(ctx, id),
    terms: each((key) => need_terms(ctx, id, on, key, dm_g)),
    feeds: each((key) => feed_parts(ctx, id, on, planned, key)),
    week: each((key) => week_days(ctx, id, key)),
  };
}

const seen = { does: 0, differ: [] as string[] };
for await (const line of createInterface({ input: createReadStream(process.argv[2]!) })) {
  const given = JSON.parse(line) as Case;
  const ctx = new Context(
    fold(given.log.map(({ ev, eff }) => upcast(effective(ev, eff)))), given.outlooks, given.book, given.day,
  );
  for (const [id, there] of Object.entries(given.why)) {
    const here = canonical(why(ctx, id));
    seen.does++;
    if (here !== there) seen.differ.push(`case ${given.n} ${id}: here ${here}\nthere ${there}`);
  }
}
console.log(JSON.stringify(seen));
