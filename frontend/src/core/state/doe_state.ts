import type { Data, Envelope } from "../events.ts";
import { byCodePoint } from "../order.ts";
import { rows, table, text, truth, whole } from "./values.ts";
import type { Checkup, Doe, Feeding, Intake, Line, Place, Water, Weather } from "./view.ts";

/** One doe's state, walked through her few state events and her observations. Twin of herd/state/doe_state.py. */
export function new_place(id: string): Place {
  return { id, f: table(), stamp: table(), by: table() };
}

export function new_doe(id: string): Doe {
  return {
    ...new_place(id), moves: [], pen: "", bred: null, check: null, dried_on: "", kidded: null, kiddings: 0, left_on: "",
    scores: [], weights: [], milks: [], udder: [], signs: [], checkups: [],
  };
}

/** Events arrive in order of happening. */
export function apply_state(doe: Doe, event: Envelope): void {
  const { data, on, id } = event;
  switch (event.kind) {
    case "bred": return bred(doe, event);
    case "preg_check":
      doe.check = { on, result: text(data, "result"), kids: whole(data, "kids"), ev: id };
      if (text(data, "result") === "open") doe.bred = null;
      return;
    case "moved":
      doe.moves.push([on, text(data, "pen")]);
      doe.pen = text(data, "pen");
      return;
    case "dried_off":
      doe.dried_on = on;
      return;
    case "kidded":
      doe.kidded = { on, born: whole(data, "born"), alive: whole(data, "alive"), ev: id };
      doe.kiddings += 1;
      [doe.bred, doe.check, doe.dried_on] = [null, null, ""];
      return;
    case "left_herd":
      doe.left_on = on;
  }
}

function bred(doe: Doe, event: Envelope): void {
  const from = text(event.data, "from_on") || event.on;
  const to = text(event.data, "to_on");
  doe.bred = { from, to: to > from ? to : from, how: text(event.data, "how"), ev: event.id };
  doe.check = null;
}

export function observe(doe: Doe, event: Envelope): void {
  const { data, on, id, author } = event;
  switch (event.kind) {
    case "score":
      doe.scores.push([on, whole(data, "x100"), author, id]);
      return;
    case "weight":
      doe.weights.push([on, whole(data, "g"), text(data, "how"), id]);
      return;
    case "milk":
      doe.milks.push([on, whole(data, "g"), event.slot, whole(data, "fat_x100"), id]);
      return;
    case "udder":
      doe.udder.push([on, whole(data, "fill"), truth(data, "uneven"), author, id]);
      return;
    case "signs":
      doe.signs.push([event.happened, codes(data, "seen"), codes(data, "absent"), author, id]);
      return;
    case "checkup":
      doe.checkups.push(checkup_of(event));
  }
}

/** Date, instant, temperature x 10, blood ketones x 10, urine, author, id; 0 and "" are not measured. */
export function checkup_of({ on, happened, data, author, id }: Envelope): Checkup {
  return [on, happened, whole(data, "temp_c_x10"), whole(data, "bhb_x10"), text(data, "urine"), author, id];
}

/** Date, lowest temperature in degrees C, wet and windy, id. */
export function weather_of({ on, data, id }: Envelope): Weather {
  return [on, whole(data, "low_c"), truth(data, "wet"), id];
}

/** Values as printed; drunk_l is 0 when nobody measured it. */
export function water_of({ on, data, id }: Envelope): Water {
  const values = rows(data, "values").map((row): Water["values"][number] => [text(row, "what"), text(row, "printed"), text(row, "unit")]);
  return { ev: id, on, place: text(data, "place"), drunk_l: whole(data, "drunk_l"), values };
}

/** The pen she was in on a date: the last move on or before it. */
export function pen_on(doe: Doe, on: string): string {
  let pen = "";
  for (const [moved_on, where] of doe.moves) if (moved_on <= on) pen = where;
  return pen;
}

function codes(data: Data, key: string): string[] {
  const value = data[key];
  if (!Array.isArray(value)) return [];
  return [...new Set(value.filter((code) => typeof code === "string"))].sort(byCodePoint);
}

export function feeding_of(event: Envelope): Feeding {
  const { id: ev, subject, on, slot, happened, author, data } = event;
  const lines = rows(data, "lines").map((line): Line => [text(line, "to"), text(line, "feed"), whole(line, "g")]);
  return { ev, subject, on, slot, happened, author, adds: truth(data, "adds"), lines };
}

/** What was seen at the feeder; it takes date and slot from the feeding it names. */
export function intake_of(event: Envelope, feedings: Map<string, Feeding>): Intake {
  const { id: ev, subject, happened, author, data } = event;
  const fed = feedings.get(text(data, "fed")) ?? event;
  const how = text(data, "how");
  const left_pm = how === "left_some" ? 10 * whole(data, "left_pct") : how === "refused" ? 1000 : 0;
  return { ev, subject, on: fed.on, slot: fed.slot, happened, author, how, left_pm, feed: text(data, "feed") };
}
