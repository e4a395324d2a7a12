import { LB_G, type Units } from "../words/format.ts";
import type { Data, Json } from "../model/shapes.ts";
import { decimal } from "../words/text.ts";

export type Raw = string | boolean;
export type Values = Record<string, Raw>;
export interface Option {
  value: string;
  label: string;
  group?: string;
}
/** One question of a form. Stored numbers are whole: `scale` turns what is typed into what is kept. */
export interface Field {
  key: string;
  kind: "text" | "long" | "number" | "choice" | "pick" | "feed" | "check" | "date";
  options?: () => Option[];
  scale?: number;
  /** 1 = kept in kilograms, 1000 = kept in grams; typed in the farm's own unit. */
  mass?: number;
  /** A small mass: typed in grams or ounces. */
  fine?: boolean;
  /** Typed in centimetres or inches, kept in millimetres. */
  length?: boolean;
  /** 10 = kept in tenths of a degree C, 1 = in whole ones. */
  warmth?: number;
  unit?: string;
  hint?: string;
  /** Kept when nothing is given; without it the field must be filled in. */
  blank?: Json;
  later?: boolean;
  show?: (values: Values) => boolean;
  /** Another label for the same field, by what else was answered. */
  label?: (values: Values) => string;
}

export interface Measure {
  scale: number;
  offset: number;
  unit: string;
}

/** How what is typed becomes what is kept: (typed - offset) x scale. */
export function measureOf(field: Field, units: Units): Measure {
  const lb = units === "lb";
  const of = (scale: number, unit: string, offset = 0): Measure => ({ scale, unit, offset });
  if (field.mass && field.fine) return lb ? of((field.mass * LB_G) / 16_000, "oz") : of(field.mass / 1000, "g");
  if (field.mass) return lb ? of((field.mass * LB_G) / 1000, "lb") : of(field.mass, "kg");
  if (field.length) return lb ? of(25.4, "in") : of(10, "cm");
  if (field.warmth) return lb ? of(field.warmth / 1.8, "°F", 32) : of(field.warmth, "°C");
  return of(field.scale ?? 1, field.unit ?? "");
}

/** A kept number as it would be typed. */
export function typedOf(kept: number, { scale, offset }: Measure, digits = 3): string {
  return decimal(kept / scale + offset, digits);
}

/** What stands in the box for a kept value. */
export function toRaw(field: Field, value: Json | undefined, units: Units): Raw {
  if (field.kind === "check") return value === true;
  if (value === undefined || value === null) return "";
  if (field.kind !== "number") return String(value);
  return value === field.blank ? "" : typedOf(Number(value), measureOf(field, units));
}

/** What is kept for the text in the box, or undefined when it cannot be read. */
export function toKept(field: Field, raw: Raw | undefined, units: Units): Json | undefined {
  if (field.kind === "check") return raw === true;
  const text = String(raw ?? "").trim();
  if (text === "") return field.blank;
  if (field.kind !== "number" && !field.scale) return text === "true" ? true : text === "false" ? false : text;
  const number = Number(text.replace(",", "."));
  const { scale, offset } = measureOf(field, units);
  return Number.isFinite(number) ? Math.round((number - offset) * scale) : undefined;
}

/** `chosen`: fields whose unit somebody changed beside the box. */
export function toData(
  fields: Field[], values: Values, units: Units, chosen: Record<string, Units> = {},
): { data: Data; missing: Field[] } {
  const shown = fields.filter((field) => field.show?.(values) ?? true);
  const keep = (field: Field) => toKept(field, values[field.key], chosen[field.key] ?? units);
  const kept = fields.map((field) => [field, shown.includes(field) ? keep(field) : field.blank] as const);
  return {
    data: Object.fromEntries(kept.flatMap(([field, value]) => (value === undefined ? [] : [[field.key, value]]))),
    missing: kept.flatMap(([field, value]) => (value === undefined && shown.includes(field) ? [field] : [])),
  };
}
