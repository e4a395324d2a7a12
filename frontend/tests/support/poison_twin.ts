/** Reads the cases of tests/state/test_poisoned.py and says where this twin differs. `node poison_twin.ts FILE` */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import { canonical } from "../../src/core/events/canonical.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import { VERSIONS } from "../../src/core/events/kinds.ts";
import { upcast } from "../../src/core/events/upcast.ts";
import { outside, reaches_back } from "../../src/core/phone/recent.ts";
import { extended, latest_of } from "../../src/core/state/extend.ts";
import { fold } from "../../src/core/state/fold.ts";

interface Case {
  n: number;
  /** The kinds and versions the reading build knows. */
  build: Record<string, number>;
  log: string[];
  taps: string[];
  view: string;
}

const TODAY = { ...VERSIONS };
const NOON_MS = 1_794_744_000_000;
const seen = { cases: 0, quick: 0, differ: [] as string[] };

function difference(name: string, here: string, there: string): string | null {
  if (here === there) return null;
  let at = 0;
  while (here[at] === there[at]) at++;
  const around = (whole: string) => whole.slice(Math.max(0, at - 80), at + 80);
  return `${name}: here ...${around(here)}... there ...${around(there)}...`;
}

function become(build: Record<string, number>): void {
  const table = VERSIONS as Record<string, number>;
  for (const kind of Object.keys(table)) delete table[kind];
  Object.assign(table, build);
}

function read(text: string): Envelope {
  return upcast(JSON.parse(text) as Envelope);
}

function compare({ n, build, log, taps, view }: Case): string | null {
  try {
    become(build);
    const events = log.map(read);
    return (
      difference("view", canonical(fold(events)), view) ??
      difference("turned round", canonical(fold([...events].reverse())), view) ??
      tapped(events, taps.map(read)) ?? kept(events)
    );
  } catch (error) {
    return `case ${n}: ${error instanceof Error ? error.stack! : String(error)}`;
  } finally {
    become(TODAY);
  }
}

/** The quick way after each tap, or the word that it cannot tell. */
function tapped(events: Envelope[], taps: Envelope[]): string | null {
  const known = [...events];
  const by_id = new Map(events.map((event) => [event.id, event]));
  const log = { counting: () => known, event: (id: string) => by_id.get(id) };
  let [view, latest] = [fold(known), latest_of(known)];
  for (const tap of taps) {
    known.push(tap);
    by_id.set(tap.id, tap);
    const quick = extended(view, latest, tap, log);
    const whole = fold(known);
    if (quick) seen.quick++;
    const differs = quick && difference(`after a tap (${tap.kind})`, canonical(quick), canonical(whole));
    if (differs) return differs;
    [view, latest] = quick ? [quick, tap] : [whole, latest_of(known)];
  }
  return null;
}

/** What a phone lets go, and whether it must ask for the farm anew, is found without a stumble. */
function kept(events: Envelope[]): null {
  const parked = new Set(fold(events).parked);
  outside([...events], parked, "2027-03-01");
  reaches_back(events, (id) => events.find((event) => event.id === id), NOON_MS);
  return null;
}

for await (const line of createInterface({ input: createReadStream(process.argv[2]!) })) {
  const given = JSON.parse(line) as Case;
  const found = compare(given);
  seen.cases++;
  if (found) seen.differ.push(`case ${given.n}: ${found}`);
}
console.log(JSON.stringify(seen));
