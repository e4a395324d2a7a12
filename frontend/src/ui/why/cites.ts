import { cited } from "../../core/outlook/ground/cites.ts";
import type { Outlook } from "../../core/outlook/ground/documents.ts";
import { day } from "../model/day.svelte.ts";
import { ruleLabel, ruleWorth } from "../words/rules.ts";
import { cites_of, type Reference } from "../reference/reference.svelte.ts";

export interface RuleShown {
  key: string;
  label: string;
  value: string;
  /** Our default, where the farm has set another; else nothing. */
  standard: string;
  source: string;
}

/** What ran for a term, as the reference on this phone can tell it. */
export interface Shown {
  equations: string[];
  params: ReadonlySet<string>;
  /** Numbers read by none of these equations. */
  alone: string[];
  rules: RuleShown[];
}

/** Null where her amounts came without a record, or by a science this reference is not of: then nothing is cited. */
export function shownFor(outlook: Outlook, term: string, branch: string, of: Reference): Shown | null {
  const record = outlook.cites;
  if (!record || record.of !== of.mark) return null;
  const { places, rules } = cited(record, term, branch);
  const names = places.map((place) => cites_of(of)[place]!);
  const equations = names.filter((name) => name in of.equations);
  const params = new Set(names.filter((name) => !(name in of.equations)));
  const read = new Set(equations.flatMap((name) => of.equations[name]!.params));
  return {
    equations, params, alone: [...params].filter((name) => !read.has(name)),
    rules: rules.map((name) => ruleShown(name, record.rules[name]!, of)),
  };
}

export function ruleShown(key: string, value: number, of: Reference | null | undefined): RuleShown {
  const [standard, , , , source] = of?.rules[key] ?? [value, "", 0, 0, ""];
  return {
    key, source, label: ruleLabel(key), value: ruleWorth(key, value, day.units),
    standard: standard === value ? "" : ruleWorth(key, standard, day.units),
  };
}
