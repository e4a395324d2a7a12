import type { Problem } from "./bad_event.ts";
import { fault_in, fits, type Fault } from "./checks.ts";
import type { Data, Envelope, Json } from "./events.ts";
import { isKnown, RECORD_KINDS } from "./kinds.ts";
import { ANY_RULE, ENVELOPE, FORMS, ONE_DOE_G, type Field, type Fields } from "../tables/forms.ts";
import { RULES, type RuleName } from "../tables/rules.ts";
import { isMapping } from "./values.ts";

/**
 * What each event may carry, so that a form says at once what the server would refuse. The fields are the server's own;
 * rules over several of them stand here. Twin of herd/state/payloads.py: vectors and random entries hold the two to the
 * same field for the same input.
 */
const STAMP: Field = ["or", "", ["match", "stamp"]];

/** The whole event: what it is about and what it says. */
export function problem_of(event: Envelope): Problem | null {
  for (const [name, field] of Object.entries(ENVELOPE)) {
    const fault = fault_in(field, event[name as keyof Envelope]);
    if (fault) return { ...fault, field: name };
  }
  // Whatever the kind: nobody can fold what is no table of fields.
  if (!isMapping(event.data)) return { code: "nothing", field: "data" };
  return isKnown(event.kind, event.v) ? problem_in(event.kind, event.v, event.data) ?? rules_problem(event) : null;
}

function rules_problem({ kind, data }: Envelope): Problem | null {
  for (const [name, value] of kind === "rules" ? Object.entries(data["f"] as Data) : []) {
    const limits = Object.hasOwn(RULES, name) ? RULES[name as RuleName] : null;
    const fault = limits && fault_in(["whole", limits[1], limits[2]], value);
    if (fault) return { ...fault, field: `f.${name}` };
  }
  return null;
}

export function problem_in(kind: string, version: number, data: Json): Problem | null {
  if (!isMapping(data)) return { code: "nothing", field: "data" };
  const form = FORMS[`${kind} ${version}`]!;
  const is_record = (RECORD_KINDS as readonly string[]).includes(kind);
  return is_record ? record(kind, form, data) : fields(form, data) ?? together(kind, data);
}

function fields(form: Fields, data: Data, where = ""): Problem | null {
  for (const [name, field] of Object.entries(form)) {
    if (!Object.hasOwn(data, name)) {
      if (field[0] === "may") continue;
      return { code: "missing", field: where + name };
    }
    const found = value(field, data[name]!, where + name);
    if (found) return found;
  }
  const strange = Object.keys(data).find((name) => !Object.hasOwn(form, name));
  return strange === undefined ? null : { code: "unknown_field", field: where + strange };
}

function value(field: Field, given: Json, where: string): Problem | null {
  const fault = fault_in(field, given);
  if (fault) return { ...fault, field: where };
  return field[0] === "rows" ? rows(field[2], given as Json[], where) : null;
}

function rows(form: Fields, list: Json[], where: string): Problem | null {
  for (const [place, row] of list.entries()) {
    const at = `${where}.${place}`;
    const found = isMapping(row) ? fields(form, row, `${at}.`) : { code: "nothing" as const, field: at };
    if (found) return found;
  }
  return null;
}

function record(kind: string, form: Fields, data: Data): Problem | null {
  const { f, base } = data;
  if (!isMapping(f) || Object.keys(f).length === 0) return { code: "nothing", field: "f" };
  if (!isMapping(base) || Object.keys(data).length > 2) return { code: "unknown_field", field: "base" };
  for (const [name, given] of Object.entries(f)) {
    const found = kind === "rules" ? any_rule(name, given) : record_field(form, name, given);
    if (found) return { ...found, field: `f.${name}` };
  }
  for (const [name, stamp] of Object.entries(base)) {
    const fault = fault_in(STAMP, stamp);
    if (fault) return { ...fault, field: `base.${name}` };
  }
  return null;
}

function record_field(form: Fields, name: string, given: Json): Pick<Problem, "code"> | null {
  return Object.hasOwn(form, name) ? fault_in(form[name]!, given) : { code: "unknown_field" };
}

/** Herd rules are an open list: a number or a short word. The server's table decides which are known. */
function any_rule(name: string, given: Json): Fault | null {
  if (!fits("rule", name)) return { code: "code" };
  return fault_in(ANY_RULE[typeof given === "string" ? "word" : "number"], given);
}

function together(kind: string, data: Data): Problem | null {
  const listed = <Row>(name: string) => data[name] as unknown as Row[];
  if (kind === "ration") {
    return in_order(listed("steps")) ?? (data["to"] === "doe" ? too_much(listed("steps"), "steps") : null);
  }
  if (kind === "fed") return too_much(listed("lines"), "lines");
  if (kind === "water") return each_once(listed("values"));
  const field = Object.hasOwn(BOTH, kind) ? BOTH[kind as keyof typeof BOTH](data) : null;
  return field ? { code: "together", field } : null;
}

/** Which of two fields cannot stand with the other. */
const BOTH = {
  bred: ({ from_on, to_on }: Data) => (String(to_on) < String(from_on) ? "to_on" : null),
  kidded: ({ born, alive }: Data) => (Number(alive) > Number(born) ? "alive" : null),
  task: ({ what, to_on }: Data) => ((what === "moved") === (to_on !== "") ? null : "to_on"),
  signs: ({ seen, absent }: Data) =>
    (seen as string[]).some((code) => (absent as string[]).includes(code)) ? "absent" : null,
};

function in_order(steps: { on: string }[]): Problem | null {
  return steps.some((step, i) => i > 0 && step.on <= steps[i - 1]!.on) ? { code: "order", field: "steps" } : null;
}

/** More than anybody feeds one doe in a slot is a slip of the thumb; a pen may get much more. */
function too_much(list: { to?: string; g: number }[], name: string): Problem | null {
  for (const [place, { to, g }] of list.entries()) {
    const fault = to === "" ? null : fault_in(ONE_DOE_G, g);
    if (fault) return { ...fault, field: `${name}.${place}.g` };
  }
  return null;
}

function each_once(values: { what: string }[]): Problem | null {
  const named = values.map(({ what }) => what);
  const twice = named.findIndex((what, place) => named.indexOf(what) < place);
  return twice < 0 ? null : { code: "together", field: `values.${twice}.what` };
}
