import type { Problem } from "../../core/payloads.ts";
import type { Field } from "../forms/fields.ts";
import { measureOf, typedOf } from "../forms/fields.ts";
import { model } from "../model.svelte.ts";
import type { Data } from "../shapes.ts";
import { t } from "../text.ts";
import { GROUPS, type Rule } from "./rules_table.ts";

export function fieldsOf(rules: Rule[]): Field[] {
  return rules.map(([key, standard, low, high]) => {
    const field: Field = { key, kind: "number", blank: null, ...scale(key) };
    const measure = measureOf(field, model.units);
    const show = (value: number) => `${typedOf(value, measure, 2)} ${measure.unit}`.trim();
    return { ...field, hint: `${t(`rule.${key}`)} ${t("rules.range", { standard: show(standard), low: show(low), high: show(high) })}` };
  });
}

function scale(key: string): Pick<Field, "scale" | "unit" | "warmth"> {
  if (key.startsWith("temp_")) return { warmth: 10 };
  if (key.endsWith("_from_c")) return { warmth: 1 };
  if (key.startsWith("bhb_")) return { scale: 10, unit: "mmol/L" };
  if (key.includes("_pm")) return { scale: 10, unit: "%" };
  if (key.endsWith("_x100")) return { scale: 100 };
  if (key.endsWith("_g")) return { unit: "g" };
  return key.includes("day") || key.endsWith("_d") ? { unit: t("rules.days") } : {};
}

/** The first value outside its limits: the server would ignore it, so the form says so instead. */
export function outside(data: Data): Problem | null {
  for (const [name, , low, high] of GROUPS.flatMap(([, rules]) => rules)) {
    const value = data[name];
    if (typeof value === "number" && (value < low || value > high)) return { field: name, code: "range", low, high };
  }
  return null;
}

/** What was set, and our own value for what was emptied again; a rule nobody ever touched stays unwritten. */
export function chosenOf(data: Data, held: Data): Data {
  const standards = new Map(GROUPS.flatMap(([, rules]) => rules.map(([name, standard]) => [name, standard] as const)));
  const settled = Object.entries(data).map(([name, value]) => [name, value ?? (name in held ? (standards.get(name) ?? null) : null)] as const);
  return Object.fromEntries(settled.filter(([, value]) => value !== null));
}
