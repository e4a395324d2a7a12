import { is_same_kidding, is_same_service } from "./twice.ts";
import type { Data, Envelope } from "../events/events.ts";
import { byCodePoint } from "../events/order.ts";
import { rows, table, text, truth, whole } from "../events/values.ts";
import { freeze_of, triage_of } from "./seen.ts";
import type { Checkup, DamLook, Doe, GotInto, KidLook, RecordRow, Treatment, Water, Weather } from "./view.ts";

/** One doe's state, walked through her few state events and her observations. Twin of herd/state/doe_state.py. */
export function new_place(id: string): RecordRow {
  return { id, f: table(), stamp: table(), by: table() };
}

export function new_doe(id: string): Doe {
  return {
    ...new_place(id), moves: [], pen: "", bred: null, check: null, dried_on: "", kidded: null, kiddings: 0, left_on: "",
    freeze: null, treatments: [], scores: [], weights: [], milks: [], udder: [], signs: [], checkups: [], triages: [],
    got_into: [], kid_looks: [], afterbirths: [], dam_looks: [], heats: [], services: [], dry_plan: null,
    checks: [], open_on: "", gestations: [],
  };
}

/** Events arrive in order of happening. */
export function apply_state(doe: Doe, event: Envelope): void {
  const { data, on, id } = event;
  switch (event.kind) {
    case "bred": return bred(doe, event);
    case "preg_check": return checked(doe, event);
    case "moved":
      doe.moves.push([on, text(data, "pen"), id]);
      doe.pen = text(data, "pen");
      return;
    case "dried_off":
      doe.dried_on = on;
      return;
    case "dry_plan": return dry_plan(doe, event);
    case "kidded": return kidded(doe, event);
    case "left_herd":
      doe.left_on = on;
      return;
    case "treatment":
      doe.treatments.push(treatment_of(event));
      return;
    case "freeze":
      doe.freeze = freeze_of(event, doe.freeze);
  }
}

/** What she was given, as the label or the vet said, and until when her milk and meat are held. */
export function treatment_of({ id: ev, on, author, data }: Envelope): Treatment {
  const [product, told, why, who] = [text(data, "product"), text(data, "told"), text(data, "why"), text(data, "who")];
  const [milk_until, meat_until] = [text(data, "milk_until"), text(data, "meat_until")];
  return { ev, on, author, product, told, why, who, milk_until, meat_until, carries: codes(data, "carries") };
}

/** Of two dates that are one service either may be right: her time begins with the earlier and ends with the later. */
function bred(doe: Doe, { data, on: told, id: ev, hlc: written }: Envelope): void {
  const [on, to_on] = [text(data, "from_on") || told, text(data, "to_on")];
  const before = doe.bred && is_same_service(doe.bred.on, on) ? doe.bred : null;
  const [from, last] = [before && before.from < on ? before.from : on, to_on > on ? to_on : on];
  const still = truth(data, "still") ? { still: true } : {};
  const until = before && before.to > last ? before.to : last;
  doe.bred = { from, to: until, how: text(data, "how"), ev, on, hlc: sooner(before, written), ...still };
  doe.check = null;
  const [to, how, buck] = [to_on > on ? to_on : on, text(data, "how"), text(data, "buck")];
  doe.services.push({ ev, from: on, to, how, buck, ...still });
}

function checked(doe: Doe, { data, on, id: ev }: Envelope): void {
  doe.check = { on, result: text(data, "result"), kids: whole(data, "kids"), aged_d: whole(data, "aged_d"), ev };
  doe.checks.push({ ...doe.check, how: text(data, "how") });
  if (doe.check.result === "open") [doe.bred, doe.open_on] = [null, on];
}

function dry_plan(doe: Doe, { id: ev, on, data }: Envelope): void {
  const last_on = text(data, "last_on");
  doe.dry_plan = last_on ? { on, last_on, way: text(data, "way"), ev } : null;
}

function kidded(doe: Doe, { id: ev, on, happened: at, data, hlc: written }: Envelope): void {
  const [known, settled] = [doe.kidded, doe.bred];
  const [born, alive] = [whole(data, "born"), whole(data, "alive")];
  const again = known !== null && is_same_kidding(known.on, on);
  const hlc = sooner(again ? known : null, written);
  doe.kidded = { on, born, alive, timed: truth(data, "timed"), ev, at, hlc };
  doe.kiddings += again ? 0 : 1;
  const last = doe.gestations.at(-1);
  if (settled && !again) doe.gestations.push({ from: settled.from, to: settled.to, on, ev });
  else if (again && last?.ev === known.ev) [last.on, last.ev] = [on, ev];
  [doe.bred, doe.check, doe.dried_on, doe.dry_plan, doe.open_on] = [null, null, "", null, on];
}

/** When it was first written down; a row that an older build folded does not say. */
function sooner(before: { hlc?: string } | null, hlc: string): string {
  return before?.hlc !== undefined && before.hlc < hlc ? before.hlc : hlc;
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
      doe.udder.push([on, whole(data, "fill"), truth(data, "uneven"), author, id, text(data, "felt")]);
      return;
    case "signs":
      doe.signs.push([event.happened, codes(data, "seen"), codes(data, "absent"), author, id, on]);
      return;
    case "checkup":
      doe.checkups.push(checkup_of(event));
      return;
    case "triage":
      doe.triages.push(triage_of(event));
      return;
    default: after_these(doe, event);
  }
}

function after_these(doe: Doe, event: Envelope): void {
  const { data, on, id, author, happened } = event;
  if (event.kind === "got_into") doe.got_into.push(got_into_of(event));
  if (event.kind === "kid_look") doe.kid_looks.push(kid_look_of(event));
  if (event.kind === "dam_look") doe.dam_looks.push(dam_look_of(event));
  if (event.kind === "heat") doe.heats.push([on, happened, text(data, "what"), author, id]);
  if (event.kind === "afterbirth") doe.afterbirths.push([on, happened, text(data, "seen"), author, id]);
}

/** Date, instant, temperature x 10, blood ketones x 10, urine, author, id, what was seen; 0 and "" are not measured. */
export function checkup_of({ on, happened, data, author, id }: Envelope): Checkup {
  const [cud, dung, legs, eyes] = [text(data, "cud"), text(data, "dung"), text(data, "legs"), whole(data, "eyes")];
  const seen = { cud, dung, legs, eyes, udder: text(data, "udder"), belly: text(data, "belly") };
  return [on, happened, whole(data, "temp_c_x10"), whole(data, "bhb_x10"), text(data, "urine"), author, id, seen];
}

export function got_into_of({ id: ev, on, happened, author, data }: Envelope): GotInto {
  return { ev, on, happened, author, feed: text(data, "feed"), g: data["g"] === null ? null : whole(data, "g") };
}

/** What was seen of one of her kids; 0 and "" are not looked at. */
export function kid_look_of({ id: ev, on, happened, author, data }: Envelope): KidLook {
  const [kid, rectal_c_x10, dead] = [whole(data, "kid"), whole(data, "rectal_c_x10"), truth(data, "dead")];
  const fed_g = whole(data, "fed_g");
  const [mouth, swallows, fed] = [text(data, "mouth"), text(data, "swallows"), text(data, "fed")];
  const [up, belly, of] = [text(data, "up"), text(data, "belly"), text(data, "of")];
  return { ev, on, happened, author, kid, of, mouth, rectal_c_x10, swallows, fed, fed_g, up, belly, dead };
}

/** What was seen of a doe that has kidded; "" is not looked at. */
export function dam_look_of({ id: ev, on, happened, author, data }: Envelope): DamLook {
  const [drank, ate, halves] = [text(data, "drank"), text(data, "ate"), text(data, "halves")];
  const [discharge, bright] = [text(data, "discharge"), text(data, "bright")];
  return { ev, on, happened, author, drank, ate, halves, discharge, bright };
}

/** Date, lowest temperature in degrees C, wet and windy, id. */
export function weather_of({ on, data, id }: Envelope): Weather {
  return [on, whole(data, "low_c"), truth(data, "wet"), id];
}

/** Values as printed; drunk_l is 0 when nobody measured it. */
export function water_of({ on, data, id }: Envelope): Water {
  const values = rows(data, "values").map((row): Water["values"][number] => [
    text(row, "what"), text(row, "printed"), text(row, "unit"),
  ]);
  return { ev: id, on, place: text(data, "place"), drunk_l: whole(data, "drunk_l"), values };
}

function codes(data: Data, key: string): string[] {
  const value = data[key];
  if (!Array.isArray(value)) return [];
  return [...new Set(value.filter((code) => typeof code === "string"))].sort(byCodePoint);
}
