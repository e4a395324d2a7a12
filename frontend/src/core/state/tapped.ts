import type { Envelope } from "../events/events.ts";
import { byHappened } from "../events/order.ts";
import { text } from "../events/values.ts";
import { asked_again } from "./fed_twice.ts";
import { feeding_of, freeze_of, intake_of, round_of, triage_of } from "./seen.ts";
import type { Feeding, View } from "./view.ts";

/**
 * The view after one tap in the list of the barn, before the fold is here to be asked: made on this phone a moment ago,
 * so it can be read. Null says that it shows once everything has been read.
 */
export function tapped(view: View, latest: Envelope | null, event: Envelope): View | null {
  if (event.odd || (latest !== null && byHappened(latest, event) >= 0)) return null;
  if (event.kind === "triage") return with_triage(view, event);
  return with_freeze(view, event) ?? with_seen(view, event);
}

/** What is seen on a round, of a doe or a pen that is here. */
export function with_seen(view: View, event: Envelope): View | null {
  if (event.kind === "round") return { ...view, rounds: [...view.rounds, round_of(event)] };
  if (view.does[event.subject] === undefined && view.pens[event.subject] === undefined) return null;
  if (event.kind === "fed") return with_feeding(view, feeding_of(event));
  return event.kind === "intake" ? with_intake(view, event) : null;
}

/** Holding her grain is part of a tap, and must show with it. */
export function with_freeze(view: View, event: Envelope): View | null {
  const held = event.kind === "freeze" && view.does[event.subject];
  return held
    ? { ...view, does: { ...view.does, [event.subject]: { ...held, freeze: freeze_of(event, held.freeze) } } }
    : null;
}

function with_triage(view: View, event: Envelope): View | null {
  const held = view.does[event.subject];
  if (!held) return null;
  const doe = { ...held, triages: [...held.triages, triage_of(event)] };
  return { ...view, does: { ...view.does, [event.subject]: doe } };
}

function with_feeding(view: View, feeding: Feeding): View {
  return asked_again({ ...view, feedings: [...view.feedings, feeding] }, feeding);
}

function with_intake(view: View, event: Envelope): View {
  const named = text(event.data, "fed");
  const fed = named ? view.feedings.filter(({ ev }) => ev === named) : [];
  const intake = intake_of(event, new Map(fed.map((feeding) => [feeding.ev, feeding])));
  return { ...view, intakes: [...view.intakes, intake] };
}
