import type { Data, Envelope, Json } from "../events/events.ts";
import { CHAIN_KINDS, isKnown } from "../events/kinds.ts";
import { byStamp } from "../events/order.ts";
import { content_fault, is_date, is_slot, type Why } from "../events/readable.ts";
import { content, mapping, table, text } from "../events/values.ts";

/** Voids and corrections: which events still count, and with what content. Twin of herd/state/chains.py. */
const CHAIN = new Set<string>(CHAIN_KINDS);
/** What a correction may move an entry to. */
const MOVES: [name: string, fits: (value: Json | undefined) => boolean][] = [
  ["on", is_date], ["slot", is_slot], ["happened", Number.isSafeInteger],
];

export interface Settled {
  live: Envelope[];
  voided: Record<string, string>;
  waiting: string[];
  /** Voids and corrections that cannot be read. */
  aside: Map<string, Why>;
}

export function isLink({ kind, v }: Envelope): boolean {
  return CHAIN.has(kind) && isKnown(kind, v);
}

/**
 * Walks from the latest stamp down: everything that could end a link has been judged before it, so chains cannot loop.
 */
export function settle(events: Envelope[]): Settled {
  const links = events.filter(isLink).sort((a, b) => byStamp(b, a));
  const index = links.length ? new Map(events.map((event) => [event.id, event])) : new Map<string, Envelope>();
  const voided = table<string>();
  const fixes = new Map<string, Envelope>();
  const waiting: string[] = [];
  const aside = new Map<string, Why>();
  for (const link of links) {
    const target = index.get(text(content(link), "of"));
    const about = target && root(target, index);
    const why = link_fault(link, about);
    const ended = voided[link.id] !== undefined;
    if (why) {
      if (!ended) aside.set(link.id, why);
    } else if (target === undefined || about === undefined) {
      waiting.push(link.id);
    } else if (!ended && byStamp(target, link) < 0) {
      if (link.kind === "void") voided[target.id] ??= link.id;
      else setDefault(fixes, about.id, link);
    }
  }
  const counting = events.filter((event) => !isLink(event) && voided[event.id] === undefined);
  return { live: counting.map((event) => corrected(event, fixes.get(event.id))), voided, waiting, aside };
}

/** What a chain of corrections is about; it is followed only as long as it leads to older stamps. */
function root(event: Envelope, index: Map<string, Envelope>): Envelope {
  while (event.kind === "correct") {
    const target = index.get(text(content(event), "of"));
    if (target === undefined || byStamp(target, event) >= 0) break;
    event = target;
  }
  return event;
}

function link_fault(link: Envelope, about: Envelope | undefined): Why {
  const why = content_fault(link.kind, link.data);
  if (why || link.kind === "void") return why;
  if (!moves_to_somewhere(link.data)) return "field";
  if (!about || CHAIN.has(about.kind) || !isKnown(about.kind, about.v)) return "";
  return content_fault(about.kind, link.data["data"]);
}

function moves_to_somewhere(data: Data): boolean {
  return MOVES.every(([name, fits]) => !Object.hasOwn(data, name) || fits(data[name]));
}

function corrected(event: Envelope, fix: Envelope | undefined): Envelope {
  if (fix === undefined) return event;
  const { on = event.on, slot = event.slot, happened = event.happened } = fix.data as Partial<Envelope>;
  const moved = { ...event, data: mapping(fix.data, "data"), fixed_by: fix.id, on, slot, happened } as Envelope;
  // Somebody has said when it was.
  if (Object.hasOwn(fix.data, "on") || Object.hasOwn(fix.data, "happened")) delete moved.odd;
  return moved;
}

function setDefault<T>(map: Map<string, T>, key: string, value: T): void {
  if (!map.has(key)) map.set(key, value);
}
