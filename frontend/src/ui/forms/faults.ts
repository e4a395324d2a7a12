import type { Units } from "../words/format.ts";
import { has, t } from "../words/text.ts";
import { measureOf, typedOf, type Field } from "./fields.ts";

export interface Wrong {
  field: string;
  code: string;
  low?: number;
  high?: number;
}

/** What to do about a value, in the unit it was typed in. */
export function faultText(fault: Omit<Wrong, "field">, field: Field | undefined, units: Units): string {
  const measure = field?.kind === "number" ? measureOf(field, units) : { scale: 1, offset: 0, unit: "" };
  const show = (value: number | undefined) => `${typedOf(value ?? 0, measure, 2)} ${measure.unit}`.trim();
  const args = { low: show(fault.low), high: show(fault.high) };
  const specific = `bad.${fault.code}.${field?.key ?? ""}`;
  const byKind = `bad.${fault.code}.${field?.kind ?? ""}`;
  return t([byKind, specific, `bad.${fault.code}`].find(has) ?? "bad.other", args);
}
