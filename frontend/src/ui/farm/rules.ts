import { RULES, type RuleName } from "../../core/tables/rules.ts";
import { GROUPS } from "../../core/tables/rules_offered.ts";
import { herdOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { Option } from "../forms/fields.ts";
import type { Data } from "../model/shapes.ts";
import { choicesOf, isChoice, keptRule, typedRule } from "../words/rules.ts";
import { t } from "../words/text.ts";

export type Texts = Record<string, string>;

/** The eight a keeper comes back to, of the size most of the herd has. */
export function everyday(): RuleName[] {
  const here = herdOf(day.view);
  const size = here.filter(({ f }) => f["size"] === "mini").length * 2 > here.length ? "mini" : "standard";
  return [
    `step_${size}_g`, "step_days", "forage_switch_d", "waste_pm", "weigh_again_d", "level_pm", `dry_off_day_${size}`,
    `preg_days_${size}`,
  ];
}

/** The rest, as they are grouped. */
export function further(): [group: string, rules: RuleName[]][] {
  const before = everyday();
  return GROUPS.map(([group, rules]) => [group, rules.filter((rule) => !before.includes(rule))]);
}

/** What the page of rules may show: "" the everyday ones. */
export const isGroup = (name = "") => ["", "units", ...GROUPS.map(([group]) => group)].includes(name);

/** What the farm goes by: its own where it set one that may be, else ours. */
export function inForce(rule: RuleName, held: Data): number {
  const [ours, low, high] = RULES[rule];
  const own = held[rule];
  return typeof own === "number" && own >= low && own <= high ? own : ours;
}

export const textsOf = (rules: readonly RuleName[], held: Data): Texts =>
  Object.fromEntries(rules.map((rule) => [rule, shownText(rule, inForce(rule, held))]));

export const shownText = (rule: RuleName, kept: number) =>
  isChoice(rule) ? String(kept) : typedRule(rule, kept, day.units);

/** What is typed, as it would be kept; null where it is no number or beyond what a farm may choose. */
export function keptOf(rule: RuleName, text: string): number | null {
  const kept = isChoice(rule) ? Number(text) : keptRule(rule, text, day.units);
  const [, low, high] = RULES[rule];
  return kept !== undefined && kept >= low && kept <= high ? kept : null;
}

/** Those that would be others than what is in force. */
export function changedOf(texts: Texts, held: Data): Partial<Record<RuleName, number>> {
  const rows = (Object.entries(texts) as [RuleName, string][]).flatMap(([rule, text]) => {
    const [kept, now] = [keptOf(rule, text), inForce(rule, held)];
    // an ounce is no whole number of grams: what reads the same is the same
    return kept === null || kept === now || text === shownText(rule, now) ? [] : [[rule, kept] as const];
  });
  return Object.fromEntries(rows);
}

/** Published systems by name; a number of the farm's own stands beside them. */
export function ruleOptions(rule: RuleName, now: number): Option[] {
  const known = choicesOf(rule);
  return [
    ...known.map((value) => ({ value: String(value), label: t(`choice.${rule}.${value}`) })),
    ...(known.includes(now) ? [] : [{ value: String(now), label: t("choice.own", { value: now }) }]),
  ];
}
