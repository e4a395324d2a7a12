import { day } from "../model/day.svelte.ts";
import type { DoeResult, NutrientKey } from "../model/results.ts";
import type { Pair } from "../model/what_if.ts";
import { in_a_row, t } from "../words/text.ts";
import { say } from "./prompt.ts";
import { lineStand } from "./standing.ts";

const KEYS: NutrientKey[] = ["me", "cp", "ca", "p"];
/** As many does are told of one by one. */
const MOST = 4;

/** The word on one nutrient, as it stands beside her name. */
export function wordOn(result: DoeResult, key: NutrientKey): string {
  const { level, heading, likely } = lineStand(result.lines[key]);
  return `${likely ? `${t("likely")} ` : ""}${t(heading ? `heading.${heading}` : `level.${level}`)}`;
}

/**
 * "Mallow: energy level, now heading short"; of each doe whose word would be another, in the order of her name.
 * `later`: part of it is worked out elsewhere, so that nobody moved here is no answer yet.
 */
export function movedWords(pairs: Pair[], later = false): string[] {
  const moved = pairs.map(movedOf).filter(({ what }) => what.length).sort((a, b) => (a.name < b.name ? -1 : 1));
  const told = moved.slice(0, MOST).map(({ name, what }) => t("if.doe", { name, what: what.join("; ") }));
  const rest = moved.slice(MOST).map(({ name }) => name);
  if (!moved.length) return later ? [] : [t("if.nobody")];
  return rest.length ? [...told, t("if.more", { n: rest.length, names: in_a_row(rest) })] : told;
}

function movedOf([was, would]: Pair): { name: string; what: string[] } {
  const lines = KEYS.flatMap((key) => {
    const [before, then] = [wordOn(was, key), wordOn(would, key)];
    const nutrient = t(`nutrient.${key}`).toLowerCase();
    return before === then ? [] : [t("if.line", { nutrient, was: before, now: then })];
  });
  return { name: day.named(was.id), what: [...lines, ...saidOf(was, would)] };
}

/** What she is asked for first, where that would be another thing. */
function saidOf({ prompt: was }: DoeResult, { prompt: would }: DoeResult): string[] {
  if (was?.code === would?.code) return [];
  return [would ? t("if.said", { text: say(would).text.replace(/\.$/, "") }) : t("if.unsaid")];
}
