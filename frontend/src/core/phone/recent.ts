import { addDays } from "../base/days.ts";
import { effective, type Envelope } from "../events/events.ts";
import { RECORD_KINDS, SEEN_KINDS } from "../events/kinds.ts";
import { KEPT_D, KEPT_LATEST, KEPT_MARGIN_D } from "../tables/forms.ts";
import { byHappened } from "../events/order.ts";
import { envelope_fault } from "../events/readable.ts";
import { content, text } from "../events/values.ts";
import type { Memory } from "./memory.ts";
import { START } from "./store/farm_store.ts";
import type { Meta } from "./store/rows.ts";
import type { Changes } from "./sync/wire.ts";

interface Held {
  memory: Pick<Memory, "event">;
  meta: Partial<Meta>;
}

/**
 * What a phone need not keep in memory: observations from before the window, and what was said about them. The rule of
 * herd/services/bootstrap.py, so that a phone that was there all along and one that is new see the same farm.
 */
const SEEN = new Set<string>(SEEN_KINDS);
const CHAIN = new Set(["void", "correct"]);
const REPLACING = new Set<string>([...RECORD_KINDS, "ration"]);

/**
 * Ids to let go. `parked`: entries that still wait for something; the voids and corrections among them stay. `bare`:
 * those the server has placed although what they name was let go here: own ones stay in storage longer than that, and
 * come back from it.
 */
export function outside(
  events: Envelope[], parked: Set<string>, today: string, bare: Set<string> = new Set(),
): Set<string> {
  const edge = addDays(today, -(KEPT_D + KEPT_MARGIN_D));
  const old = events.filter((event) => is_old(event, edge));
  if (old.length === 0 && bare.size === 0) return new Set();
  const links = events.filter((event) => CHAIN.has(event.kind));
  const gone = new Set([...old.map(({ id }) => id), ...bare]);
  for (const id of still_needed(old, links)) gone.delete(id);
  return with_their_links(gone, links, parked);
}

/** One whose day nobody knows does not grow old before somebody has said it. */
function is_old(event: Envelope, edge: string): boolean {
  return SEEN.has(event.kind) && !event.odd && !envelope_fault(event) && event.on < edge;
}

/**
 * Corrected ones, whose date may have moved, and the latest scores, weights and milks of each doe. Taken-back ones hold
 * their places too: what is kept only ever grows less as entries come in, so nothing let go is wanted again.
 */
function still_needed(old: Envelope[], links: Envelope[]): string[] {
  const corrected = new Set(links.filter(({ kind }) => kind === "correct").map((link) => text(content(link), "of")));
  const places = new Map<string, number>();
  return old.sort((a, b) => byHappened(b, a)).filter(({ id, subject, kind }) => {
    const key = `${subject} ${kind}`;
    const place = places.get(key) ?? 0;
    places.set(key, place + 1);
    return corrected.has(id) || place < (KEPT_LATEST[kind] ?? 0);
  }).map(({ id }) => id);
}

function with_their_links(gone: Set<string>, links: Envelope[], parked: Set<string>): Set<string> {
  for (let before = -1; before !== gone.size; ) {
    before = gone.size;
    for (const link of links) if (gone.has(text(content(link), "of")) && !parked.has(link.id)) gone.add(link.id);
  }
  return gone;
}

/**
 * What came about records and rations from before the window: written late, taken back or put right. This phone may
 * lack what they stood on, which only the farm's short list can tell. A day's margin: two clocks need not agree to the
 * hour.
 */
export function reaches_back(came: Envelope[], here: (id: string) => Envelope | undefined, now_ms: number): boolean {
  const since = (now_ms - (KEPT_D - 1) * 86_400_000).toString(16).padStart(12, "0");
  const among = new Map(came.map((event) => [event.id, event]));
  return came.some((event) => {
    const about = root(event, (id) => among.get(id) ?? here(id));
    return !about || (REPLACING.has(about.kind) && !envelope_fault(about) && about.hlc < since);
  });
}

/** The same of what an answer brings. What only waits is not counted: its time may still come. */
export function answer_reaches_back({ events, now }: Changes, { memory, meta }: Held): boolean {
  const { seq: had } = meta.cursor ?? START;
  const came = events
    .filter(({ seq, st }) => seq > had && st === "ok")
    .map(({ ev, eff }) => effective(ev, eff ?? null));
  return reaches_back(came, (id) => memory.event(id), now);
}

/** What a chain of voids and corrections is about in the end; nothing when it leads back to itself, or out of sight. */
function root(event: Envelope, find: (id: string) => Envelope | undefined): Envelope | undefined {
  const passed = new Set<string>();
  let about: Envelope | undefined = event;
  while (about && CHAIN.has(about.kind)) {
    if (passed.has(about.id)) return undefined;
    passed.add(about.id);
    about = find(text(content(about), "of"));
  }
  return about;
}
