import * as check from "./checks.ts";
import type { Check, Fault } from "./checks.ts";
import type { Data, Envelope, Json } from "./events.ts";
import { isKnown, MINERALS, RECORD_KINDS, ROUNDS, SIGNS, SLOTS, WATER, WATER_UNITS } from "./kinds.ts";
import { RECORD_FIELDS, ruleFault, ruleLimitFault } from "./record_fields.ts";
import { isMapping } from "./values.ts";

/**
 * What each event may carry, so that a form says at once what the server would refuse. Twin of herd/state/payloads.py:
 * shared vectors hold the two to the same field for the same input.
 */
export interface Problem extends Omit<Fault, "code"> {
  field: string;
  code: Fault["code"] | "missing" | "unknown_field" | "nothing" | "order" | "together";
}

/** Thrown at the form, before anything is recorded. */
export class BadEvent extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(`${problem.field}: ${problem.code}`);
    this.problem = problem;
  }
}

type Fields = Record<string, Check>;
const MOST_G = 60_000;
const MOST_SHARED_G = 600_000;
const MOST_LINES = 400;
const MOST_STEPS = 60;
const MOST_FILLS = 10;
const LATEST_MS = 253_402_300_799_000;

const STEP: Fields = { on: check.day, g: check.whole(0, MOST_SHARED_G) };
const LINE: Fields = { to: check.orBlank(check.ref), feed: check.feedRef, g: check.whole(0, MOST_SHARED_G) };
const SLOT = check.choice(SLOTS);
const READINGS: Fields = {
  temp_c_x10: check.orZero(check.whole(340, 430)), bhb_x10: check.orZero(check.whole(1, 100)),
  urine: check.choice(["", "none", "trace", "small", "moderate", "large"]),
};
const SEEN_ON_HER: Fields = {
  cud: check.choice(["", "chewing", "none"]), dung: check.choice(["", "normal", "dry", "loose", "none"]),
  legs: check.choice(["", "fine", "swollen", "lame"]), eyes: check.whole(0, 5),
  udder: check.choice(["", "fine", "hot", "cold", "clots"]), belly: check.choice(["", "fine", "tight"]),
};
const ASKED = check.choice(["", "yes", "no"]);
const FORMS: Record<string, Fields> = {
  "bred 1": { from_on: check.day, to_on: check.day, how: check.choice(["hand", "pen"]), buck: check.text(0, 40) },
  "preg_check 1": {
    result: check.choice(["pregnant", "open", "unsure"]), kids: check.whole(0, 5),
    how: check.choice(["scan", "blood", "other"]),
  },
  "moved 1": { pen: check.orBlank(check.ref) },
  "dried_off 1": {},
  "kidded 1": { born: check.whole(0, 6), alive: check.whole(0, 6) },
  "left_herd 1": { why: check.choice(["sold", "died", "culled", "other"]) },
  "intake 1": {
    how: check.choice(["ate_all", "left_some", "refused", "slow", "not_up"]), left_pct: check.whole(0, 100),
    feed: check.orBlank(check.feedRef), fed: check.orBlank(check.ref),
  },
  "udder 1": { fill: check.whole(0, 4), uneven: check.flag },
  "score 1": { x100: check.whole(100, 500, 25) },
  "signs 1": { seen: check.codes(SIGNS), absent: check.codes(SIGNS) },
  "weight 1": { kg_x10: check.whole(5, 2_500) },
  "weight 2": {
    g: check.whole(500, 250_000), how: check.choice(["scale", "tape"]), girth_mm: check.whole(0, 2_000),
    length_mm: check.whole(0, 2_000),
  },
  "milk 1": { g: check.whole(0, 20_000), fat_x100: check.whole(0, 1_500) },
  "checkup 1": READINGS,
  "checkup 2": { ...READINGS, ...SEEN_ON_HER },
  "triage 1": {
    of: check.orBlank(check.ref), new_feed: ASKED, water_bad: ASKED, bullied: ASKED,
    suspect: check.choice(["", "bloat", "overload"]),
    result: check.choice(["", "eating", "same", "worse", "down", "vet_called"]),
  },
  "round 1": { what: check.choice(ROUNDS), count: check.whole(0, 500), of: check.whole(0, 500) },
  "treatment 1": {
    product: check.text(1, 120), told: check.text(0, 500), why: check.text(0, 200),
    who: check.choice(["vet", "label", "other"]), milk_until: check.orBlank(check.day),
    meat_until: check.orBlank(check.day),
    carries: check.codes(MINERALS),
  },
  "freeze 1": { until_on: check.orBlank(check.day), grain_out: check.flag, of: check.orBlank(check.ref) },
  "calibration 1": {
    of: check.choice(["scoop", "flake", "bale"]), fills_g: check.numbers(MOST_FILLS, 1, MOST_SHARED_G),
    lot: check.orBlank(check.feedRef),
  },
  "new_bag 1": { feed: check.feedRef },
  "weather 1": { low_c: check.whole(-50, 45), wet: check.flag },
  "note 1": { text: check.text(1, 2_000) },
  "void 1": { of: check.ref },
};
const RATION: Fields = {
  to: check.choice(["doe", "pen"]), slot: SLOT, feed: check.feedRef, base: check.stampOrBlank,
};
const TESTED: Fields = {
  what: check.choice(WATER), printed: check.match(/^<? ?[0-9]{1,6}([.,][0-9]{1,4})?$/, "number"),
  unit: check.choice(WATER_UNITS),
};
const OF_WATER: Fields = { place: check.text(0, 40), drunk_l: check.orUnknown(check.whole(1, 2_000)) };
const CORRECT: Fields = { of: check.ref };
const CORRECT_MAY: Fields = { on: check.day, slot: SLOT, happened: check.whole(0, LATEST_MS) };
const ENVELOPE: Fields = {
  id: check.ref, subject: check.ref, on: check.day, slot: SLOT, happened: check.whole(0, LATEST_MS),
  entered: check.whole(0, LATEST_MS), author: check.ref, device: check.ref,
};

/** The whole event: what it is about and what it says. */
export function problem_of(event: Envelope): Problem | null {
  for (const [name, test] of Object.entries(ENVELOPE)) {
    const fault = test(event[name as keyof Envelope]);
    if (fault) return { ...fault, field: name };
  }
  // Whatever the kind: nobody can fold what is no table of fields.
  if (!isMapping(event.data)) return { code: "nothing", field: "data" };
  return isKnown(event.kind, event.v) ? problem_in(event.kind, event.v, event.data) ?? rules_problem(event) : null;
}

function rules_problem({ kind, data }: Envelope): Problem | null {
  for (const [name, value] of kind === "rules" ? Object.entries(data["f"] as Data) : []) {
    const fault = ruleLimitFault(name, value);
    if (fault) return { ...fault, field: `f.${name}` };
  }
  return null;
}

export function problem_in(kind: string, version: number, data: Json): Problem | null {
  if (!isMapping(data)) return { code: "nothing", field: "data" };
  if ((RECORD_KINDS as readonly string[]).includes(kind)) return record(kind, data);
  if (kind === "ration") return ration(data);
  if (kind === "fed") return fed(data);
  if (kind === "correct") return correct(data);
  if (kind === "water") return water(data);
  return fields(FORMS[`${kind} ${version}`]!, data) ?? together(kind, data);
}

function fields(wanted: Fields, data: Data, where = "", may: Fields = {}): Problem | null {
  for (const [name, test] of Object.entries(wanted)) {
    if (!Object.hasOwn(data, name)) return { code: "missing", field: where + name };
    const fault = test(data[name]);
    if (fault) return { ...fault, field: where + name };
  }
  for (const name of Object.keys(data)) {
    if (Object.hasOwn(wanted, name)) continue;
    if (!Object.hasOwn(may, name)) return { code: "unknown_field", field: where + name };
    const fault = may[name]!(data[name]);
    if (fault) return { ...fault, field: where + name };
  }
  return null;
}

function record(kind: string, data: Data): Problem | null {
  const { f, base } = data;
  if (!isMapping(f) || Object.keys(f).length === 0) return { code: "nothing", field: "f" };
  if (!isMapping(base) || Object.keys(data).length > 2) return { code: "unknown_field", field: "base" };
  for (const [name, value] of Object.entries(f)) {
    const fault = kind === "rules" ? ruleFault(name, value) : record_field(kind, name, value);
    if (fault) return { ...fault, field: `f.${name}` };
  }
  for (const [name, stamp] of Object.entries(base)) {
    const fault = check.stampOrBlank(stamp);
    if (fault) return { ...fault, field: `base.${name}` };
  }
  return null;
}

function record_field(kind: string, name: string, value: Json): Pick<Problem, "code"> | null {
  const known = RECORD_FIELDS[kind]!;
  return Object.hasOwn(known, name) ? known[name]!(value) : { code: "unknown_field" };
}

function rows(data: Data, name: string, wanted: Fields, most: number): Problem | null {
  const list = data[name];
  if (!Array.isArray(list) || list.length === 0 || list.length > most) {
    return { code: "count", field: name, low: 1, high: most };
  }
  for (const [place, row] of list.entries()) {
    const found = isMapping(row)
      ? fields(wanted, row, `${name}.${place}.`)
      : { code: "nothing" as const, field: `${name}.${place}` };
    if (found) return found;
  }
  return null;
}

function ration(data: Data): Problem | null {
  const { steps, ...rest } = data;
  const found = fields(RATION, rest) ?? rows(data, "steps", STEP, MOST_STEPS);
  if (found) return found;
  const list = steps as { on: string; g: number }[];
  if (list.some((step, i) => i > 0 && step.on <= list[i - 1]!.on)) return { code: "order", field: "steps" };
  return data["to"] === "doe" ? too_much(list, "steps") : null;
}

function fed(data: Data): Problem | null {
  const { lines, ...rest } = data;
  const found = fields({ adds: check.flag }, rest) ?? rows(data, "lines", LINE, MOST_LINES);
  return found ?? too_much(lines as { to: string; g: number }[], "lines");
}

function water(data: Data): Problem | null {
  const { values, ...rest } = data;
  const found = fields(OF_WATER, rest) ?? rows(data, "values", TESTED, WATER.length);
  if (found) return found;
  const named = (values as { what: string }[]).map(({ what }) => what);
  const twice = named.findIndex((what, place) => named.indexOf(what) < place);
  return twice < 0 ? null : { code: "together", field: `values.${twice}.what` };
}

/** More than anybody feeds one doe in a slot is a slip of the thumb; a pen may get much more. */
function too_much(list: { to?: string; g: number }[], name: string): Problem | null {
  const place = list.findIndex((row) => row.to !== "" && row.g > MOST_G);
  return place < 0 ? null : { code: "range", field: `${name}.${place}.g`, low: 0, high: MOST_G };
}

function correct(data: Data): Problem | null {
  const { data: content, ...rest } = data;
  return fields(CORRECT, rest, "", CORRECT_MAY) ?? (isMapping(content) ? null : { code: "nothing", field: "data" });
}

function together(kind: string, data: Data): Problem | null {
  if (kind === "bred" && (data["to_on"] as string) < (data["from_on"] as string))
    return { code: "together", field: "to_on" };
  if (kind === "kidded" && (data["alive"] as number) > (data["born"] as number))
    return { code: "together", field: "alive" };
  if (kind === "signs" && (data["seen"] as string[]).some((code) => (data["absent"] as string[]).includes(code))) {
    return { code: "together", field: "absent" };
  }
  return null;
}
