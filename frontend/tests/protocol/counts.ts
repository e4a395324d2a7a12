import { canonical } from "../../src/core/events/canonical.ts";
import type { Farm } from "../../src/core/phone/farm.ts";
import type { Handset } from "./handset.ts";
import type { Owed, Recording } from "./recording.ts";
import type { Trouble } from "./trouble.ts";

/** What a farm's server holds once everything has healed. */
export interface Log {
  events: { seq: number; id: string; kind: string; hlc: string; device: string; author: string; data: unknown }[];
  /** Of them, those that count: one may stay in the log of somebody who might not, and is folded by nobody. */
  stands: string[];
  refused: string[];
  /** What an owner has before her and has not decided about, with the reason where it cannot come in. */
  on_list: string[];
  view: string;
}

/** Signed in once more, whatever she recorded on this phone has gone out; or why it has not. */
export async function unsettled(phone: Handset, person: string, gone: boolean): Promise<string[]> {
  await phone.signIn(person);
  const farm = await phone.farm(person);
  farm.session.forget();
  const ended = await phone.sync(farm);
  const wanted = gone ? "removed" : "done";
  return ended === "died" || ended.kind !== wanted ? [`stuck: ${JSON.stringify(ended)}`] : [];
}

/**
 * Whatever was called saved is in the log, or refused and shown to whoever recorded it. Her phone no longer shows what
 * she was taken off the farm with, or what storage had when it was emptied: then the server has it, an owner has it on
 * her list, or it was said. What the server had and was put back behind, and then the phone lost, is nowhere.
 */
export function lost(log: Log, farms: Farm[], owed: Map<string, Owed>, { emptied, doubly_gone }: Trouble): string[] {
  const kept = new Set(log.events.map(({ id }) => id));
  const refused = new Set(log.refused);
  const on_list = new Set(log.on_list);
  const shown = new Set(farms.flatMap((farm) => farm.needsYou().map(({ event }) => event.id)));
  const here = new Set(farms.map(({ person }) => person));
  return [...owed].flatMap(([id, { person, phone }]) => {
    if (kept.has(id) || on_list.has(id) || (refused.has(id) && shown.has(id))) return [];
    if (emptied.get(phone)?.has(id) || doubly_gone.has(id) || (refused.has(id) && !here.has(person))) return [];
    const met = refused.has(id) ? "refused, and shown to nobody" : "nowhere";
    const [answered, gone] = [phone.network.heard.has(id) ? "" : "not ", emptied.has(phone) ? "" : "not "];
    return [`lost: ${id} (${met}; ${answered}answered; storage ${gone}emptied)`];
  });
}

/**
 * Spoken of as well, though the server has it: recorded while storage was going, or answered in the moment before, when
 * the word outside the database had not yet been crossed off.
 */
const BESIDE = 2;

/** As many as are gone with a database somebody emptied, said on that phone, and no word of loss where nothing was. */
export function unsaid(log: Log, owed: Map<string, Owed>, { emptied, beside, doubly_gone }: Trouble): string[] {
  const there = new Set([...log.events.map(({ id }) => id), ...log.refused]);
  return [...emptied].flatMap(([phone, ids]) => {
    const missing = [...ids].filter((id) => owed.has(id) && !there.has(id) && !doubly_gone.has(id)).length;
    const said = phone.said.filter(({ what }) => what === "lost").reduce((sum, { n }) => sum + n, 0);
    if (said < missing) return [`unsaid: ${missing} entries are gone, ${said} were spoken of`];
    const most = ids.size + BESIDE + (beside.get(phone) ?? 0);
    return said > most ? [`unsaid: ${said} were spoken of, ${ids.size} waited`] : [];
  });
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

/** Whoever recorded it stands beside it, however it came. */
export function misnamed(log: Log, { authors }: Recording): string[] {
  const wrong = log.events.filter(({ id, author }) => authors.has(id) && authors.get(id) !== author);
  return wrong.map(({ id, author }) => `misnamed: ${id} as of ${author}`);
}

export function apart(log: Log, farms: Farm[]): string[] {
  return farms.flatMap((farm, i) => {
    const view = canonical(farm.view);
    return view === log.view ? [] : [`apart: phone ${i} (${difference(view, log.view)})`];
  });
}

/** Every outlook the worker has made, as it made it. */
export function outdated(made: Record<string, string>, farms: Farm[]): string[] {
  const wanted = Object.entries(made).filter(([doe]) => doe !== "");
  return farms.flatMap((farm, i) => wanted.flatMap(([doe, text]) => {
    const [held, newest] = [farm.outlook(doe), JSON.parse(text) as { rev: number }];
    const same = canonical(held) === canonical(newest);
    return same ? [] : [`outdated: phone ${i}, ${doe}: ${held?.rev} for ${newest.rev}`];
  }));
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

/** On a phone whose page says that nothing waits, something was answered for each entry. */
export function calledSent(phone: Handset, owed: Map<string, Owed>, emptied: Set<string>): string[] {
  return phone.open.filter(({ removed }) => !removed).flatMap((farm) => {
    const waits = new Set([...farm.pending(), ...farm.needsYou()].map(({ event }) => event.id));
    return [...owed].filter(([id, by]) => by.phone === phone && by.person === farm.person && !waits.has(id))
      .filter(([id]) => farm.event(id) && !phone.network.heard.has(id) && !emptied.has(id))
      .map(([id]) => `called sent: ${id}`);
  });
}

export function causality(log: Log, farm: Farm, { does, writes }: Recording): string[] {
  const counts = new Set(log.stands);
  const by = new Map<string, string>();
  for (const doe of does) {
    for (const [field, id] of Object.entries(farm.view.does[doe]?.by ?? {})) by.set(`${doe} ${field}`, id);
  }
  const beaten = writes.filter(({ id, field, over }) => over !== "" && counts.has(id) && by.get(field) === over);
  return beaten.map(({ id, over }) => `causality: ${over} stands over ${id}, written in sight of it`);
}
