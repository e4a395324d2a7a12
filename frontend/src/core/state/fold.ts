import type { Envelope } from "../events/events.ts";
import { at_once } from "../base/at_once.ts";
import { BARN_KINDS, OF_DOE_KINDS, STATE_KINDS } from "../events/kinds.ts";
import { byCodePoint, byHappened, byStamp, compareText } from "../events/order.ts";
import { apply_state, new_doe, new_place, observe, water_of, weather_of } from "./doe_state.ts";
import { empty } from "./empty.ts";
import { twice_fed } from "./fed_twice.ts";
import { picture_of, voice_of } from "./media.ts";
import { bag_of, calibration_of } from "./places.ts";
import { write_ration } from "./rations.ts";
import { write_record } from "./records.ts";
import { feeding_of, intake_of, round_of } from "./seen.ts";
import { sift } from "./sift.ts";
import { said_twice } from "./twice.ts";
import { wishes_of } from "./wishes.ts";
import { hand_over_of, kid_weight_of, kit_use_of, task_of } from "./year.ts";
import { text } from "../events/values.ts";
import type { Feeding, Question, View } from "./view.ts";

/** Events to the farm's view. Twin of herd/state/fold.py: both give the same canonical JSON for the same events. */
const PLACES = new Map<string, Place>([
  ["pen", "pens"], ["feed", "feeds"], ["lot", "lots"], ["contact", "contacts"], ["shelf", "shelf"], ["scoop", "scoops"],
  ["jar", "jars"], ["pack", "packs"], ["kid", "kids"], ["kit", "kit"], ["own_task", "own_tasks"],
]);
type Place =
  | "pens" | "feeds" | "lots" | "contacts" | "shelf" | "scoops" | "jars" | "packs" | "kids" | "kit" | "own_tasks";
const STATE = new Set<string>(STATE_KINDS);
const OF_DOE = new Set<string>(OF_DOE_KINDS);
const OF_PLAN = new Set(["ration", "wish", "decline"]);
const OF_DOE_OR_PEN = new Set(["ration", "wish", "decline", "fed", "intake"]);
const ANYWHERE = new Set<string>(["doe", "rules", "new_bag", "picture", "kit_used", ...BARN_KINDS, ...PLACES.keys()]);

/** Order of arrival does not matter and repeats change nothing. */
export function fold(events: Envelope[]): View {
  return at_once(folding(events));
}

/**
 * The same, with a breath between its parts: on a slow phone the whole takes longer than a tap may wait.
 *
 * What cannot be read is set aside before it touches anything. Should the fold stop on an entry all the same, it starts
 * again without that one, so nothing half done is left behind.
 */
export function* folding(events: Envelope[]): Generator<void, View> {
  const stopped = new Set<string>();
  for (;;) {
    const now: Now = { id: "" };
    try {
      return yield* folded(events, stopped, now);
    } catch (error) {
      if (now.id === "" || stopped.has(now.id)) throw error;
      stopped.add(now.id);
    }
  }
}

/** Which entry is being folded, so that the one the fold stops on is known. */
interface Now {
  id: string;
}

function each(now: Now, events: Envelope[], work: (event: Envelope) => void): void {
  for (const event of events) {
    now.id = event.id;
    work(event);
  }
  now.id = "";
}

function* folded(events: Envelope[], stopped: Set<string>, now: Now): Generator<void, View> {
  const { counts, parked, aside, voided, undated } = sift(events, stopped);
  yield;
  const view = empty(voided);
  const questions = new Map<string, Question>();
  const stamped = counts.filter((event) => isStamped(event.kind)).sort(byStamp);
  each(now, stamped, (event) => fold_record(view, event, questions));
  const placed: Envelope[] = [];
  for (const event of counts) if (is_placed(view, event)) placed.push(event);
    else parked.push(event.id);
  const plans = stamped.filter((event) => OF_PLAN.has(event.kind) && is_placed(view, event));
  const rations = plans.filter(({ kind }) => kind === "ration");
  each(now, rations, (event) => write_ration(view.rations, event, questions));
  view.wishes = wishes_of(plans);
  yield;
  const timed = placed.filter((event) => !isStamped(event.kind)).sort(byHappened);
  yield;
  each(now, timed, (event) => fold_doe(view, event));
  yield;
  fold_meals(view, timed, now);
  yield;
  ask_who_fed_twice(view, questions);
  for (const [key, asked] of said_twice(timed)) questions.set(key, asked);
  yield;
  each(now, timed, (event) => fold_measure(view, event));
  [view.parked, view.aside, view.undated] = [parked.sort(compareText), aside, undated];
  view.questions = [...questions.keys()].sort(byCodePoint).map((key) => questions.get(key)!);
  return view;
}

/** Records and rations are few and ordered by their stamps; everything else is many and ordered by when it happened. */
function isStamped(kind: string): boolean {
  return OF_PLAN.has(kind) || kind === "doe" || kind === "rules" || PLACES.has(kind);
}

function fold_record(view: View, event: Envelope, questions: Map<string, Question>): void {
  const { kind, subject } = event;
  const place = PLACES.get(kind);
  if (kind === "doe") write_record((view.does[subject] ??= new_doe(subject)), event, questions);
  else if (kind === "rules") write_record(view.rules, event, questions);
  else if (place) write_record((view[place][subject] ??= new_place(subject)), event, questions);
}

function is_placed(view: View, event: Envelope): boolean {
  const { kind, subject } = event;
  if (STATE.has(kind) || OF_DOE.has(kind)) return view.does[subject] !== undefined;
  if (OF_DOE_OR_PEN.has(kind)) return view.does[subject] !== undefined || view.pens[subject] !== undefined;
  if (kind === "calibration") return view.scoops[subject] !== undefined || view.lots[subject] !== undefined;
  return ANYWHERE.has(kind);
}

function fold_doe(view: View, event: Envelope): void {
  if (STATE.has(event.kind)) apply_state(view.does[event.subject]!, event);
  else if (OF_DOE.has(event.kind)) observe(view.does[event.subject]!, event);
}

function fold_measure(view: View, event: Envelope): void {
  if (event.kind === "calibration") (view.calibrations[event.subject] ??= []).push(calibration_of(event));
  else if (event.kind === "new_bag") (view.bags[text(event.data, "feed")] ??= []).push(bag_of(event));
  else if (event.kind === "round") view.rounds.push(round_of(event));
  else if (event.kind === "picture") view.pictures.push(picture_of(event));
  else if (event.kind === "voice") view.voices.push(voice_of(event));
  else if (event.kind === "kid_weight") view.kid_weights.push(kid_weight_of(event));
  else if (event.kind === "kit_used") view.kit_uses.push(kit_use_of(event));
  else if (event.kind === "task") view.tasks.push(task_of(event));
  else if (event.kind === "hand_over") view.hand_overs.push(hand_over_of(event));
}

function fold_meals(view: View, timed: Envelope[], now: Now): void {
  const feedings = new Map<string, Feeding>();
  each(now, timed, (event) => void (event.kind === "fed" && feedings.set(event.id, feeding_of(event))));
  view.feedings = [...feedings.values()];
  each(now, timed, (event) => {
    if (event.kind === "intake") view.intakes.push(intake_of(event, feedings));
    if (event.kind === "note") view.notes.push(note_of(event));
    if (event.kind === "weather") view.weather.push(weather_of(event));
    if (event.kind === "water") view.water.push(water_of(event));
  });
}

function ask_who_fed_twice(view: View, questions: Map<string, Question>): void {
  for (const [key, marks] of twice_fed(view.feedings)) {
    const [subject, on, slot] = key.split("|") as [string, string, string];
    const values = marks.map((mark) => ({ value: mark, stamp: "", ev: mark }));
    questions.set(`fed|${key}`, { kind: "fed_twice", subject, field: `${on}|${slot}`, values });
  }
}

function note_of({ id: ev, subject, on, happened, author, data }: Envelope) {
  return { ev, subject, on, happened, author, text: text(data, "text") };
}
