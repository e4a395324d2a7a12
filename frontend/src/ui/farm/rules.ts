import { SCORES_APART_D } from "../../core/tables/numbers.ts";
import type { Problem } from "../../core/events/payloads.ts";
import { CHOICES as NAMED, GROUPS, RULES, type RuleName } from "../../core/tables/rules.ts";
import type { Field } from "../forms/fields.ts";
import { measureOf, typedOf } from "../forms/fields.ts";
import { day } from "../model/day.svelte.ts";
import type { Data, Json } from "../model/shapes.ts";
import { has, t } from "../words/text.ts";

const CHOICES: Readonly<Record<string, Readonly<Record<string, number>>>> = NAMED;
const OFFERED: readonly RuleName[] = GROUPS.flatMap(([, rules]) => rules);

export function fieldsOf(rules: readonly RuleName[], held: Data): Field[] {
  return rules.map((key) => {
    const [standard, low, high] = RULES[key];
    if (CHOICES[key]) return choiceOf(key, Object.values(CHOICES[key]), held[key]);
    const field: Field = { key, kind: "number", blank: null, ...scale(key) };
    const measure = measureOf(field, day.units);
    const typed = (value: number) => typedOf(value, measure, 2);
    const show = (value: number) =>
      field.unit === t("rules.days") ? t("why.days", { n: value }) : `${typed(value)} ${measure.unit}`.trim();
    const limits = t("rules.range", { standard: show(standard), low: typed(low), high: show(high) });
    return { ...field, hint: `${t(`rule.${key}`, { apart: SCORES_APART_D })} ${limits}` };
  });
}

/** Published systems by name; a number of the farm's own stands beside them. */
function choiceOf(key: string, values: number[], held: Json | undefined): Field {
  const own = typeof held === "number" && !values.includes(held) ? [held] : [];
  const options = () => [
    ...values.map((value) => ({ value: String(value), label: t(`choice.${key}.${value}`) })),
    ...own.map((value) => ({ value: String(value), label: t("choice.own", { value }) })),
  ];
  return { key, kind: "choice", scale: 1, blank: null, options, hint: t(`rule.${key}`) };
}

export const ruleLabel = (key: string) => (has(`f.${key}`) ? t(`f.${key}`) : key.replaceAll("_", " "));

/** A rule's value as a person reads it: a documented choice by name, a day of gestation, a number with its unit. */
export function ruleWorth(key: string, value: number): string {
  if (has(`choice.${key}.${value}`)) return t(`choice.${key}.${value}`);
  if (/_day(_|$)/.test(key)) return t("doe.day", { n: value });
  const field: Field = { key, kind: "number", blank: null, ...scale(key) };
  const measure = measureOf(field, day.units);
  return field.unit === t("rules.days")
    ? t("why.days", { n: value })
    : `${typedOf(value, measure, 2)} ${measure.unit}`.trim();
}

/** What a form of rules starts with: a named choice nobody made is ours. */
export function startOf(rules: readonly RuleName[], held: Data): Data {
  const named = rules.filter((key) => CHOICES[key]).map((key) => [key, RULES[key][0]] as const);
  return { ...Object.fromEntries(named), ...held };
}

function scale(key: string): Pick<Field, "scale" | "unit" | "warmth"> {
  if (key.startsWith("temp_")) return { warmth: 10 };
  if (key.endsWith("_from_c")) return { warmth: 1 };
  if (key.startsWith("bhb_")) return { scale: 10, unit: "mmol/L" };
  if (key.includes("_pm")) return { scale: 10, unit: "%" };
  if (key.endsWith("_x100")) return { scale: 100 };
  if (key.endsWith("_g")) return { unit: "g" };
  if (key.startsWith("recheck_h_")) return { unit: "h" };
  return key.includes("day") || key.endsWith("_d") ? { unit: t("rules.days") } : {};
}

/** The first value outside its limits: the server would ignore it, so the form says so instead. */
export function outside(data: Data): Problem | null {
  for (const name of OFFERED) {
    const [, low, high] = RULES[name];
    const value = data[name];
    if (typeof value === "number" && (value < low || value > high)) return { field: name, code: "range", low, high };
  }
  return null;
}

/** What was set, and our own value for what was emptied again; a rule nobody ever touched stays unwritten. */
export function chosenOf(data: Data, held: Data): Data {
  const standards = new Map<string, number>(OFFERED.map((name) => [name, RULES[name][0]]));
  const settled = Object.entries(data).map(
    ([name, value]) => [name, value ?? (name in held ? (standards.get(name) ?? null) : null)] as const,
  );
  const untouched = (name: string, value: Json) => !(name in held) && name in CHOICES && value === standards.get(name);
  return Object.fromEntries(settled.filter(([name, value]) => value !== null && !untouched(name, value)));
}
