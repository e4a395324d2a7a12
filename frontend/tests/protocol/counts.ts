import { canonical } from "../../src/core/events/canonical.ts";
import type { Farm } from "../../src/core/phone/farm.ts";
import type { Handset } from "./handset.ts";

/** What a farm's server holds once everything has healed. */
export interface Log {
  events: { seq: number; id: string; kind: string; hlc: string; device: string; author: string; data: unknown }[];
  refused: string[];
  view: string;
}

/** Signed in once more, whatever she recorded on this phone has gone out; or why it has not. */
export async function unsettled(phone: Handset, person: string): Promise<string[]> {
  await phone.signIn(person);
  const farm = await phone.farm(person);
  farm.session.forget();
  const ended = await phone.sync(farm);
  return ended === "died" || ended.kind !== "done" ? [`stuck: ${JSON.stringify(ended)}`] : [];
}

export function lost(log: Log, farms: Farm[], saved: Iterable<string>): string[] {
  const there = new Set([...log.events.map(({ id }) => id), ...log.refused]);
  const shown = new Set(farms.flatMap((farm) => farm.needsYou().map(({ event }) => event.id)));
  const kept = new Set(log.events.map(({ id }) => id));
  return [...saved]
    .filter((id) => !there.has(id) || !(kept.has(id) || shown.has(id)))
    .map((id) => `lost: ${id}`);
}

export function doubled(log: Log): string[] {
  const seen = new Set<string>();
  const twice: string[] = [];
  for (const { id, seq: _seq, ...rest } of log.events) {
    const fact = JSON.stringify(rest);
    if (seen.has(fact)) twice.push(`doubled: ${id}`);
    seen.add(fact);
  }
  const gaps = log.events.filter(({ seq }, i) => seq !== i + 1).map(({ seq }) => `gap before ${seq}`);
  return [...twice, ...gaps];
}

export function apart(log: Log, farms: Farm[]): string[] {
  return farms.flatMap((farm, i) => {
    const view = canonical(farm.view);
    return view === log.view ? [] : [`apart: phone ${i} (${difference(view, log.view)})`];
  });
}

function difference(here: string, there: string): string {
  let at = 0;
  while (here[at] === there[at]) at++;
  return `${here.slice(Math.max(0, at - 80), at + 60)} | ${there.slice(Math.max(0, at - 80), at + 60)}`;
}

export function queues(farms: Farm[]): string[] {
  const held = farms.map((farm) => farm.pending().length);
  return held.flatMap((n, i) => (n ? [`queue: phone ${i} holds ${n}`] : []));
}
