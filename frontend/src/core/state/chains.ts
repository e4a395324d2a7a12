import type { Envelope } from "../events/events.ts";
import { byStamp } from "../events/order.ts";
import { mapping, table, text } from "../events/values.ts";

/** Voids and corrections: which events still count, and with what content. Twin of herd/state/chains.py. */
const CHAIN = new Set(["void", "correct"]);

export interface Settled {
  live: Envelope[];
  voided: Record<string, string>;
  waiting: string[];
}

/**
 * Walks from the latest stamp down: everything that could end a link has been judged before it, so chains cannot loop.
 */
export function settle(events: Envelope[]): Settled {
  const links = events.filter((event) => CHAIN.has(event.kind)).sort((a, b) => byStamp(b, a));
  const index = links.length ? new Map(events.map((event) => [event.id, event])) : new Map<string, Envelope>();
  const voided = table<string>();
  const fixes = new Map<string, Envelope>();
  const waiting: string[] = [];
  for (const link of links) {
    const target = index.get(text(link.data, "of"));
    if (target === undefined) {
      waiting.push(link.id);
    } else if (voided[link.id] === undefined && byStamp(target, link) < 0) {
      if (link.kind === "void") voided[target.id] ??= link.id;
      else setDefault(fixes, root(target, index), link);
    }
  }
  const counting = events.filter((event) => !CHAIN.has(event.kind) && voided[event.id] === undefined);
  return { live: counting.map((event) => corrected(event, fixes.get(event.id))), voided, waiting };
}

function root(event: Envelope, index: Map<string, Envelope>): string {
  while (event.kind === "correct") {
    const target = index.get(text(event.data, "of"));
    if (target === undefined || byStamp(target, event) >= 0) break;
    event = target;
  }
  return event.id;
}

function corrected(event: Envelope, fix: Envelope | undefined): Envelope {
  if (fix === undefined) return event;
  const changed = { ...event, data: mapping(fix.data, "data"), fixed_by: fix.id };
  const { on, slot, happened } = fix.data;
  if (typeof on === "string") changed.on = on;
  if (typeof slot === "string") changed.slot = slot;
  if (Number.isSafeInteger(happened)) changed.happened = happened as number;
  return changed;
}

function setDefault<T>(map: Map<string, T>, key: string, value: T): void {
  if (!map.has(key)) map.set(key, value);
}
