import type { Data, Envelope } from "./events.ts";
import { isKnown, VERSIONS } from "./kinds.ts";
import { isMapping, mapping, whole } from "./values.ts";

/** Old payloads are read in today's form; what was recorded is never rewritten. Twin of herd/state/upcast.py. */
const GRAMS_PER_TENTH_KG = 100;
const NOT_LOOKED_AT: Data = { cud: "", dung: "", legs: "", eyes: 0, udder: "", belly: "" };
/**
 * What the second version may say besides, it need not: ration 2 what brought the amount, wish 2 where she is moved to
 * for it, preg_check 2 how far along the scan has her, udder 2 how it feels, kid_look 2 how much it drank and 3 whose
 * record that kid is.
 */
const MAY_SAY_MORE: readonly string[] = ["ration", "wish", "preg_check", "udder", "kid_look"];
const NOT_ASKED: Data = { left: "", passes: "", strains: "" };

/** Unknown kinds and versions, newest ones, and what does not have the old form either, come back as they are. */
export function upcast(event: Envelope): Envelope {
  if (!isKnown(event.kind, event.v) || !isMapping(event.data)) return event;
  if (event.kind === "correct") return correction(event);
  if (event.kind === "weight" && event.v === 1 && isWeight1(event.data)) {
    return { ...event, v: VERSIONS.weight, data: weight_2(event.data) };
  }
  if (event.kind === "checkup" && event.v === 1) return { ...event, v: VERSIONS.checkup, data: checkup_2(event.data) };
  if (event.kind === "triage" && event.v === 1) return { ...event, v: VERSIONS.triage, data: triage_2(event.data) };
  if (event.kind === "kidded" && event.v === 1) return { ...event, v: VERSIONS.kidded, data: kidded_2(event.data) };
  return MAY_SAY_MORE.includes(event.kind) ? { ...event, v: VERSIONS[event.kind] } : event;
}

function isWeight1(data: Data): boolean {
  return Number.isSafeInteger(data["kg_x10"]);
}

/** Weight 1 held tenths of a kilogram and nothing about how; scales were the only way then. */
export function weight_2(old: Data): Data {
  return { g: whole(old, "kg_x10") * GRAMS_PER_TENTH_KG, how: "scale", girth_mm: 0, length_mm: 0 };
}

/** Checkup 1 held readings only: nothing was said about what she looked like. */
export function checkup_2(old: Data): Data {
  return { ...NOT_LOOKED_AT, ...old };
}

/** Triage 1 did not ask what she left, nor how a buck passes water. */
export function triage_2(old: Data): Data {
  return { ...NOT_ASKED, ...old };
}

/** Kidded 1 was written down at some hour of its day: nobody said when the last kid came. */
export function kidded_2(old: Data): Data {
  return { timed: false, ...old };
}

/** A correction does not say which version its content is in; the old form is known by its own fields. */
function correction(event: Envelope): Envelope {
  if (!isMapping(event.data["data"])) return event;
  const content = mapping(event.data, "data");
  const newer = todays(content);
  return newer ? { ...event, data: { ...event.data, data: newer } } : event;
}

function todays(content: Data): Data | null {
  if (isWeight1(content)) return weight_2(content);
  if (Number.isSafeInteger(content["temp_c_x10"]) && !Object.hasOwn(content, "cud")) return checkup_2(content);
  if (Object.hasOwn(content, "bullied") && !Object.hasOwn(content, "left")) return triage_2(content);
  const kidded_1 = Number.isSafeInteger(content["alive"]) && !Object.hasOwn(content, "timed");
  return kidded_1 ? kidded_2(content) : null;
}
