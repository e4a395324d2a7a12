import type { Act, ActLine } from "../../core/outlook/acts/shapes.ts";
import { percent } from "../words/format.ts";
import { shortly } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { infoOf, spokenAmount } from "../sentences/amounts.ts";
import { t } from "../words/text.ts";

/** What is put into the plan, a line a feed: meals with the same amounts are said together. */
export function lines_said(act: Act): string[] {
  const groups = new Map<string, ActLine[]>();
  for (const line of act.lines) {
    const key = JSON.stringify([line.subject, line.feed, line.from_g, line.steps]);
    groups.set(key, [...(groups.get(key) ?? []), line]);
  }
  return [...groups.values()].map((lines) => said(lines, act));
}

function said(lines: ActLine[], act: Act): string {
  const { subject, feed, from_g, steps } = lines[0]!;
  const [[on, g], ...then] = steps as [[string, number], ...[string, number][]];
  const how = g === 0 ? "none" : from_g === 0 ? "new" : g > from_g ? "up" : g < from_g ? "down" : "same";
  const name = shortly(infoOf(feed).name);
  const first = t(`act.line.${how}`, {
    meals: and(lines.map(({ slot }) => t(`slot.${slot}`))), on: day.spoken(on), g: spokenAmount(feed, g), feed: name,
    was: spokenAmount(feed, from_g),
  });
  const later = then.map(([on, g]) =>
    t(g ? "act.line.then" : "act.line.ends", { on: day.spoken(on), g: spokenAmount(feed, g) }),
  );
  const whose = subject === act.subject ? "" : t("act.line.whose", { name: day.named(subject) });
  return `${whose}${[first, ...later].join(t("act.line.join"))}${t("stop")}`;
}

export function and(words: string[]): string {
  const [last, ...rest] = [...words].reverse();
  const lower = (word: string) => word.charAt(0).toLowerCase() + word.slice(1);
  return rest.length
    ? t("act.and", { first: [words[0]!, ...words.slice(1, -1).map(lower)].join(", "), last: lower(last!) })
    : (last ?? "");
}

export function brings_said({ brings: { of, from_pm, to_pm, by_on } }: Pick<Act, "brings">): string {
  return t("act.brings", {
    from: percent(from_pm), to: percent(to_pm), nutrient: t(`act.of.${of}`), on: day.spoken(by_on),
  });
}
