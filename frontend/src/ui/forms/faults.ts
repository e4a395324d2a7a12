import type { Units } from "../format.ts";
import { has, t } from "../text.ts";
import { scaleOf, unitOf, type Field } from "./fields.ts";

export interface Wrong {
  field: string;
  code: string;
  low?: number;
  high?: number;
}

/** What to do about a value, in the unit it was typed in. */
export function faultText(fault: Omit<Wrong, "field">, field: Field | undefined, units: Units): string {
  const scale = field?.kind === "number" ? scaleOf(field, units) : 1;
  const unit = field ? unitOf(field, units) : "";
  const show = (value: number | undefined) => `${Number(((value ?? 0) / scale).toFixed(2))}${unit ? ` ${unit}` : ""}`;
  const args = { low: show(fault.low), high: show(fault.high) };
  const specific = `bad.${fault.code}.${field?.key ?? ""}`;
  const byKind = `bad.${fault.code}.${field?.kind ?? ""}`;
  return t([byKind, specific, `bad.${fault.code}`].find(has) ?? "bad.other", args);
}
