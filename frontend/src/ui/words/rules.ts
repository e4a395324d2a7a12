import { SCORES_APART_D } from "../../core/tables/numbers.ts";
import { RULES, type RuleName } from "../../core/tables/rules.ts";
import { CHOICES as NAMED } from "../../core/tables/rules_offered.ts";
import { LB_G, type Units } from "./format.ts";
import { decimal, has, t } from "./text.ts";

const CHOICES: Readonly<Record<string, Readonly<Record<string, number>>>> = NAMED;

/** A rule's number as a person types it: (kept - offset) / scale, in a unit, and by how much one tap moves it. */
export interface Worth {
  scale: number;
  offset: number;
  unit: string;
  /** Of what is kept. */
  step: number;
}

/** By how a name ends or begins, the first that fits. `step`: where it is not one of what is typed. */
const WORTHS: [name: RegExp, scale: number, unit: string, step: number, lb?: Worth][] = [
  [/^temp_/, 10, "°C", 1, { scale: 10 / 1.8, offset: 32, unit: "°F", step: 1 }],
  [/_from_c$/, 1, "°C", 1, { scale: 1 / 1.8, offset: 32, unit: "°F", step: 1 }],
  [/^bhb_/, 10, "mmol/L", 1],
  [/^cold_pm_per_c$/, 10, "%", 1],
  [/_pm(_|$)/, 10, "%", 10],
  [/^ca_p_/, 100, "rules.parts", 10],
  [/^score_sd_/, 100, "rules.points", 5],
  [/_x100$/, 100, "rules.points", 25],
  [/_kj_(kg|per_kg)$/, 1000, "rules.mj_kg", 100],
  [/_ug_g$/, 10_000, "%", 100],
  [/_g_kg$/, 1, "rules.g_kg", 1],
  [/_g$/, 1, "g", 10, { scale: LB_G / 16, offset: 0, unit: "oz", step: LB_G / 32 }],
  [/^recheck_h_/, 1, "h", 1],
  [/(^|_)(d|day|days)(_|$)/, 1, "rules.days", 1],
];
/** What has more room than this is moved by as much at a tap. */
const WIDE: Readonly<Record<string, [room: number, step: number]>> = { "%": [599, 50], "rules.days": [100, 10] };

export function worthOf(key: string, units: Units): Worth {
  const [, scale, unit, step, lb] = WORTHS.find(([name]) => name.test(key)) ?? [/$/, 1, "", 1];
  if (lb && units === "lb") return lb;
  const [, low, high] = RULES[key as RuleName] ?? [0, 0, 0];
  const [room, wide] = WIDE[unit] ?? [Infinity, step];
  return { scale, offset: 0, unit: has(unit) ? t(unit) : unit, step: high - low > room ? wide : step };
}

export const isChoice = (key: string) => Object.hasOwn(CHOICES, key);
export const choicesOf = (key: string) => Object.values(CHOICES[key] ?? {});

export function typedRule(key: string, kept: number, units: Units): string {
  const { scale, offset } = worthOf(key, units);
  return decimal(kept / scale + offset, 2);
}

/** Undefined where it cannot be read. */
export function keptRule(key: string, text: string, units: Units): number | undefined {
  const number = Number(text.trim().replace(",", "."));
  const { scale, offset } = worthOf(key, units);
  return text.trim() && Number.isFinite(number) ? Math.round((number - offset) * scale) : undefined;
}

export const ruleLabel = (key: string) => t(`f.${key}`);
export const ruleHint = (key: string) => (has(`rule.${key}`) ? t(`rule.${key}`, { apart: SCORES_APART_D }) : "");

/** A rule's value as a person reads it: a documented choice by name, a day of gestation, a number with its unit. */
export function ruleWorth(key: string, value: number, units: Units): string {
  if (has(`choice.${key}.${value}`)) return t(`choice.${key}.${value}`);
  if (/_day(_|$)/.test(key)) return t("doe.day", { n: value });
  const { unit } = worthOf(key, units);
  return unit === t("rules.days") ? t("why.days", { n: value }) : `${typedRule(key, value, units)} ${unit}`.trim();
}
