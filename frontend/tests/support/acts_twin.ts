/**
 * Reads farms from a file, one a line, and says where acts that are worked the way a phone works them differ from those
 * of one doe at a time on a farm nobody asked before, and where an act brings something else than it promises.
 * `node acts_twin.ts FILE`
 */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import { acts, acts_in_steps } from "../../src/core/outlook/acts/search.ts";
import type { Act, ActLine, Acts, Brings } from "../../src/core/outlook/acts/shapes.ts";
import { day_sums, permille } from "../../src/core/outlook/balance/balance.ts";
import { presumed_of } from "../../src/core/outlook/acts/presumed.ts";
import { Context } from "../../src/core/outlook/ground/context.ts";
import type { Outlook } from "../../src/core/outlook/ground/documents.ts";
import type { Book } from "../../src/core/outlook/ground/herd_figures.ts";
import { Evaluation } from "../../src/core/outlook/whole/evaluation.ts";
import { unit_of } from "../../src/core/outlook/whole/units.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import { VERSIONS } from "../../src/core/events/kinds.ts";
import { intake_of } from "../../src/core/state/seen.ts";
import type { View } from "../../src/core/state/view.ts";

type Farm = [view: View, outlooks: Record<string, Outlook>, book: Book, day: string];
type Search = [subject: string, work: Generator<void, Acts>];

const seen = { asked: 0, offered: 0, for_pens: 0, promised: 0, stood: 0, differ: [] as string[] };

/** A farm as a phone holds it: judged, and asked of one after the other. */
function judged([view, outlooks, book, day]: Farm): Evaluation {
  const evaluation = new Evaluation(new Context(view, outlooks, book, day), (error) => {
    throw error;
  });
  evaluation.results();
  return evaluation;
}

/** All of them begun, and taken on in turn, as idle time and a page that opens in the middle of it do. */
function in_turn(ctx: Context, subjects: string[]): Map<string, Acts> {
  const found = new Map<string, Acts>();
  let open = subjects.map((subject): Search => [subject, acts_in_steps(ctx, subject)]);
  for (let turn = 1; open.length; turn++) {
    open = open.filter(([subject, work], i) => !taken_on(work, 1 + ((turn * (i + 3)) % 7), subject, found));
  }
  return found;
}

function taken_on(work: Search[1], steps: number, subject: string, found: Map<string, Acts>): boolean {
  for (let n = 0; n < steps; n++) {
    const { done, value } = work.next();
    if (done) return found.set(subject, value).size > 0;
  }
  return false;
}

function compare(farm: Farm): void {
  const [view, outlooks, book, day] = farm;
  const subjects = [...Object.keys(view.does), ...Object.keys(view.pens)];
  const turned = in_turn(judged(farm).ctx, subjects);
  for (const subject of subjects) {
    const fresh = new Context(view, outlooks, book, day);
    const plain = acts(fresh, subject);
    seen.asked++;
    const [here, there] = [plain, turned.get(subject)].map((found) => JSON.stringify(found));
    if (here !== there) seen.differ.push(`${subject}: alone ${here} in turn ${there}`);
    for (const act of plain.offered) kept(fresh, subject, act);
  }
  for (const subject of Object.keys(view.does)) left_some(farm, turned, subject);
}

/** One leaves some of a meal: what was found for all others stands only where it would be found again. */
function left_some(farm: Farm, found: Map<string, Acts>, doe: string): void {
  const [view, outlooks, book, day] = farm;
  const before = judged(farm);
  for (const [subject, acts] of found) before.kept_of(subject).set(subject, acts);
  const data = { how: "left_some", left_pct: 40, feed: "", fed: "" };
  const event: Envelope = {
    id: "zz", kind: "intake", v: VERSIONS.intake, subject: doe, on: day, slot: "morning", happened: 0, entered: 0,
    hlc: "f", author: "", device: "", data,
  };
  const then: View = { ...view, intakes: [...view.intakes, intake_of(event, new Map())] };
  const after = before.after(then, [event], { counting: () => [], event: () => undefined });
  const plain = new Context(then, outlooks, book, day);
  for (const [subject, had] of found) {
    if (!after?.kept_of(subject).has(subject)) continue;
    if (had.offered.length) seen.stood++;
    const [here, there] = [had, acts(plain, subject)].map((each) => JSON.stringify(each));
    if (here !== there) seen.differ.push(`${subject}: after ${doe} left some ${here} anew ${there}`);
  }
}

/** What it promises, by a farm into whose plan nothing but its lines was written. */
function kept(ctx: Context, subject: string, act: Act): void {
  seen.offered++;
  if (act.each) seen.for_pens++;
  const unit = Object.hasOwn(ctx.view.does, subject) ? unit_of(ctx, subject) : subject;
  const going_on = presumed_of(ctx, unit).ctx;
  for (const { doe, brings } of act.each ?? [{ doe: subject, brings: act.brings }]) {
    const [from_pm, to_pm] = [[], act.lines].map((lines) => share_of(going_on, lines, doe, brings));
    seen.promised++;
    if (from_pm === brings.from_pm && to_pm === brings.to_pm) continue;
    const promise = `${subject}: ${act.code} promises ${doe} ${JSON.stringify(brings)}`;
    seen.differ.push(`${promise}, brings ${from_pm} to ${to_pm}`);
  }
}

function share_of({ view, outlooks, book, day }: Context, lines: ActLine[], doe: string, of: Brings): number {
  const rations = { ...view.rations };
  for (const { subject, slot, feed, steps } of lines) {
    const key = `${subject}|${slot}|${feed}`;
    const before = rations[key]?.steps.filter(([on]) => on < steps[0]![0]) ?? [];
    rations[key] = { subject, slot, feed, marks: [], hlc: "", ev: "", steps: [...before, ...steps] };
  }
  const does = { ...view.does };
  for (const { moves, subject, steps } of lines) {
    if (!moves) continue;
    const her = view.does[moves]!;
    does[moves] = { ...her, pen: subject, moves: [...her.moves, [steps[0]![0], subject, ""]] };
  }
  const sums = day_sums(new Context({ ...view, rations, does }, outlooks, book, day), doe, of.by_on, true)!;
  return permille(sums.got[of.of], sums.need[of.of]);
}

for await (const line of createInterface({ input: createReadStream(process.argv[2]!) })) {
  compare(JSON.parse(line) as Farm);
}
console.log(JSON.stringify(seen));
