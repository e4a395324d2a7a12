import { addDays } from "./days.ts";
import type { Envelope } from "./events.ts";
import { MEAL_KINDS, OF_DOE_KINDS } from "./kinds.ts";
import { byHappened } from "./order.ts";
import { text } from "./state/values.ts";

/**
 * What a phone need not keep in memory: observations from before the window, and what was said about them. The rule of
 * herd/services/bootstrap.py, so that a phone that was there all along and one that is new see the same farm.
 */
const WINDOW_DAYS = 60;
const MARGIN_DAYS = 2;
const LATEST = new Map([["score", 3], ["weight", 2], ["milk", 3], ["water", 4]]);
const SEEN = new Set<string>([...MEAL_KINDS, ...OF_DOE_KINDS, "note", "weather", "water"]);
const CHAIN = new Set(["void", "correct"]);

/**
 * Ids to let go. `parked`: entries that still wait for something, which are never let go. `late`: voids and corrections
 * the server has placed although what they name is not here: it was let go before they came, so they go too.
 */
export function outside(events: Envelope[], parked: Set<string>, today: string, late: Set<string> = new Set()): Set<string> {
  const edge = addDays(today, -(WINDOW_DAYS + MARGIN_DAYS));
  const old = events.filter((event) => SEEN.has(event.kind) && event.on < edge && !parked.has(event.id));
  if (old.length === 0 && late.size === 0) return new Set();
  const links = events.filter((event) => CHAIN.has(event.kind));
  const gone = new Set([...old.map(({ id }) => id), ...late]);
  for (const id of still_needed(old, links)) gone.delete(id);
  return with_their_links(gone, links, parked);
}

/** Corrected ones, whose date may have moved, and the latest scores, weights and milks of each doe. */
function still_needed(old: Envelope[], links: Envelope[]): string[] {
  const named = new Set(links.map((link) => text(link.data, "of")));
  const corrected = new Set(links.filter(({ kind }) => kind === "correct").map((link) => text(link.data, "of")));
  const places = new Map<string, number>();
  return old.sort((a, b) => byHappened(b, a)).filter(({ id, subject, kind }) => {
    const most = LATEST.get(kind);
    if (most === undefined) return corrected.has(id);
    const key = `${subject} ${kind}`;
    const place = places.get(key) ?? 0;
    // One that a void names may or may not count: it stays and takes nobody's place.
    const stays = named.has(id) || place < most;
    if (stays) places.set(key, place + (named.has(id) ? 0 : 1));
    return stays || corrected.has(id);
  }).map(({ id }) => id);
}

function with_their_links(gone: Set<string>, links: Envelope[], parked: Set<string>): Set<string> {
  for (let before = -1; before !== gone.size; ) {
    before = gone.size;
    for (const link of links) if (gone.has(text(link.data, "of")) && !parked.has(link.id)) gone.add(link.id);
  }
  return gone;
}
