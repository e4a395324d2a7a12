import type { Envelope } from "../events/events.ts";
import { asked_again, key_of, sorted } from "./fed_twice.ts";
import { isLink } from "./chains.ts";
import { isKnown, OF_DOE_KINDS } from "../events/kinds.ts";
import { envelope_fault, readable } from "../events/readable.ts";
import { byHappened, compareText } from "../events/order.ts";
import { refolded, target_of, type Log } from "./refold.ts";
import { new_place, observe } from "./doe_state.ts";
import { picture_of, voice_of } from "./media.ts";
import { hand_over_of, kid_weight_of, kit_use_of, task_of } from "./year.ts";
import { place_key } from "./planned.ts";
import { write_ration } from "./rations.ts";
import { write_record } from "./records.ts";
import { with_freeze, with_seen } from "./tapped.ts";
import { content, mapping, table, text, whole } from "../events/values.ts";
import type { Doe, Ration, RecordRow, View } from "./view.ts";

/**
 * The fold's answer after one more observation, without folding again: a tap must show at once on a slow phone. Only
 * for what comes last in time and is placed; null says that the fold itself has to be asked.
 */
const OF_DOE = new Set<string>(OF_DOE_KINDS);

export function extended(view: View, latest: Envelope | null, event: Envelope, log: Log): View | null {
  // One to park or to set aside is for the fold to say.
  if (!readable(event) || event.odd) return null;
  if (latest !== null && byHappened(latest, event) >= 0) return null;
  if (isLink(event)) return with_change(view, event, log);
  if (OF_DOE.has(event.kind)) return with_observation(view, event);
  if (event.kind === "freeze") return with_freeze(view, event);
  if (event.kind === "kid") return with_kid(view, event);
  const seen = with_more_of_barn(view, event) ?? with_seen(view, event);
  if (seen) return seen;
  const placed = view.does[event.subject] !== undefined || view.pens[event.subject] !== undefined;
  return placed && event.kind === "ration" ? with_ration(view, event) : null;
}

function with_more_of_barn(view: View, event: Envelope): View | null {
  if (event.kind === "picture") return { ...view, pictures: [...view.pictures, picture_of(event)] };
  if (event.kind === "kid_weight") return { ...view, kid_weights: [...view.kid_weights, kid_weight_of(event)] };
  if (event.kind === "kit_used") return { ...view, kit_uses: [...view.kit_uses, kit_use_of(event)] };
  if (event.kind === "task") return { ...view, tasks: [...view.tasks, task_of(event)] };
  if (event.kind === "hand_over") return { ...view, hand_overs: [...view.hand_overs, hand_over_of(event)] };
  return event.kind === "voice" ? { ...view, voices: [...view.voices, voice_of(event)] } : null;
}

/** Of the events the fold orders by when they happened, the last; a correction stands where it moves its entry to. */
export function latest_of(events: Envelope[]): Envelope | null {
  let latest: Envelope | null = null;
  for (const each of events) {
    if (envelope_fault(each) || !isKnown(each.kind, each.v)) continue;
    const moved = each.kind === "correct" ? whole(content(each), "happened") : 0;
    const event = moved > each.happened ? { ...each, happened: moved } : each;
    if (latest === null || byHappened(latest, event) < 0) latest = event;
  }
  return latest;
}

/** The last word on its place in the plan; one that answers a wish, or comes before another, is for the fold. */
function with_ration(view: View, event: Envelope): View | null {
  const key = place_key(event.subject, text(event.data, "slot"), text(event.data, "feed"));
  const held = view.rations[key];
  if (text(event.data, "wish") || (held && compareText(held.hlc, event.hlc) >= 0)) return null;
  const rations = Object.assign(table<Ration>(), view.rations);
  const questions = new Map(view.questions.map((question) => [key_of(question), question]));
  write_ration(rations, event, questions);
  return { ...view, rations, questions: sorted([...questions.values()]) };
}

/** The last word on each of its fields: kids come at night, tap after tap. */
function with_kid(view: View, event: Envelope): View | null {
  const held = view.kids[event.subject] ?? new_place(event.subject);
  const fields = Object.keys(mapping(event.data, "f"));
  if (fields.some((field) => compareText(held.stamp[field] ?? "", event.hlc) >= 0)) return null;
  const kid = { id: held.id, f: copied(held.f), stamp: copied(held.stamp), by: copied(held.by) };
  const questions = new Map(view.questions.map((question) => [key_of(question), question]));
  write_record(kid, event, questions);
  const kids = Object.assign(table<RecordRow>(), view.kids, { [event.subject]: kid });
  return { ...view, kids, questions: sorted([...questions.values()]) };
}

const copied = <T>(of: Record<string, T>) => Object.assign(table<T>(), of);

function with_observation(view: View, event: Envelope): View | null {
  const held = view.does[event.subject];
  if (held === undefined) return null;
  const { scores, weights, milks, udder, signs, checkups, triages, got_into, kid_looks, afterbirths } = held;
  const { dam_looks, heats } = held;
  const doe: Doe = {
    ...held, scores: [...scores], weights: [...weights], milks: [...milks], udder: [...udder], signs: [...signs],
    checkups: [...checkups], triages: [...triages], got_into: [...got_into], kid_looks: [...kid_looks],
    afterbirths: [...afterbirths], dam_looks: [...dam_looks], heats: [...heats],
  };
  observe(doe, event);
  return { ...view, does: { ...view.does, [event.subject]: doe } };
}

function with_change(view: View, event: Envelope, log: Log): View | null {
  const [changed, target] = [refolded(view, event, log), target_of(event, log)];
  if (changed && target?.kind === "ration") return { ...changed, questions: sorted(changed.questions) };
  return changed && target?.kind === "fed" ? asked_again(changed, target) : changed;
}

