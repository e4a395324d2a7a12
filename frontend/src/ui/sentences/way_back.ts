import { HOUR_MS } from "../../core/base/days.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Envelope } from "../model/shapes.ts";

/**
 * How it is taken back: at once what somebody tapped herself a moment ago, behind a question what is older, another's
 * or holds her milk, not at all what made her.
 */
export type WayBack = "undo" | "ask" | "none";

/** So long a tap is one's own slip, which one more tap mends. */
const FRESH_MS = 12 * HOUR_MS;
const MADE: readonly string[] = ["doe", "pen", "lot", "feed", "scoop", "jar", "pack", "kid", "kit", "own_task"];


/** The entry that made a doe, a pen, a feed: what hangs on it would go with it. */
export function isCreation(id: string): boolean {
  const event = session.farm?.event(id);
  if (!event || !MADE.includes(event.kind)) return false;
  const [first] = session.events(({ kind, subject }) => kind === event.kind && subject === event.subject);
  return first === undefined || first.id === id;
}

const isHolding = ({ kind, data }: Envelope) =>
  kind === "treatment" && [data["milk_until"], data["meat_until"]].some((until) => String(until ?? "") >= day.today);

/** Taking it back ends a hold on her milk or meat. */
export function holdsOf(id: string): boolean {
  const event = session.farm?.event(id);
  return event !== undefined && isHolding(event);
}

export function wayOf(id: string): WayBack {
  const event = session.farm?.event(id);
  if (!event || !session.mayUndo(id) || isCreation(id)) return "none";
  const own = event.author === session.farm?.person && day.now - event.entered < FRESH_MS;
  return own && !isHolding(event) ? "undo" : "ask";
}
