import { expect, test } from "vitest";
import catalogue from "../../src/texts/en.json";
import { RULES, type RuleName } from "../../src/core/tables/rules.ts";
import { CHOICES } from "../../src/core/tables/rules_offered.ts";
import { keptRule, ruleLabel, ruleWorth, typedRule } from "../../src/ui/words/rules.ts";
import { speak } from "../../src/ui/words/text.ts";

const texts = catalogue as Record<string, string>;

test.each(Object.entries(CHOICES))("published choices of %s: ours first, each in words", (name, choices) => {
  const values = Object.values(choices);
  expect(values[0]).toBe(RULES[name as RuleName][0]);
  expect(values.filter((value) => !texts[`choice.${name}.${value}`])).toEqual([]);
});

test("every rule has a name in words, and its default and its limits are said in a unit a keeper knows", () => {
  speak(texts, "en-GB", ".");
  const rules = Object.keys(RULES);
  expect(rules.filter((name) => !texts[`f.${name}`])).toEqual([]);
  const worth = (name: string, n: number) => ruleWorth(name, n, "metric");
  const said = rules.map((name) => [ruleLabel(name), ...RULES[name as RuleName].map((n) => worth(name, n))].join(", "));
  expect(rules.length).toBeGreaterThan(100);
  expect(said.filter((text) => / pm|permille|_/.test(text))).toEqual([]);
  expect(worth("level_pm", 80)).toBe("8 %");
  expect(worth("calcium_dense_ug_g", 9000)).toBe("0.9 %");
  expect(worth("calcium_swing_pm", 1500)).toBe("150 %");
});

test("what is typed for a rule is kept as it was, in either units", () => {
  speak(texts, "en-GB", ".");
  for (const units of ["metric", "lb"] as const) {
    const lost = (Object.keys(RULES) as RuleName[]).filter(
      (name) => Math.abs(keptRule(name, typedRule(name, RULES[name][0], units), units)! - RULES[name][0]) > 0.5,
    );
    expect(lost).toEqual([]);
  }
});
