import type { Keeper, Told, YearsDoc } from "../../core/outlook/years.ts";
import { day } from "../model/day.svelte.ts";
import { decimal, t } from "../words/text.ts";

/** What the numbers bear, in sentences; where they bear nothing, that in one. */
export function told(doc: YearsDoc): string[] {
  const clear = doc.told.filter(({ say }) => say === "clear").map(sentence);
  if (clear.length) return [...clear, t("back.told.not_why")];
  return [t(doc.told.every(({ say }) => say === "few") ? "back.told.few" : "back.told.none")];
}

function sentence({ measure, end, cut, sides }: Told): string {
  const [more_n, more_good, less_n, less_good] = sides;
  const much = measure === "legume" ? `${Math.round(cut / 10)} %` : day.amount(cut);
  return t("back.told.clear", {
    more: t(`back.told.more.${measure}`, { much }), end: t(`back.told.end.${end}`), more_n, more_good, less_n,
    less_good,
  });
}

/** The rules as the page says them, with the numbers they go by. */
export function rules({ by }: YearsDoc): { told: string; keeper: string; learn: string; use: string } {
  const of = (name: string) => by[name] ?? 0;
  return {
    told: t("back.how.told", {
      n: of("tell_least_n"), errors: decimal(of("tell_errors_x10") / 10, 1), late: of("late_from_d"),
    }),
    keeper: t("back.how.keeper", {
      n: of("line_least_n"), seasons: of("line_least_seasons"), least: of("line_least_pm") / 10,
      most: of("line_most_pm") / 10,
    }),
    learn: t("back.how.learn", {
      n: of("lead_prior_n"), spread: of("spread_prior_n"), times: of("lead_times_most"),
      days: of("length_moves_x10") / 10,
    }),
    use: t("back.how.use", { n: of("used_from_n"), hours: of("timed_from_h") }),
  };
}

/** Only where the kiddings behind it are enough; the others of the line's figures stand in the table. */
export function keeper_said(name: string, keeper: Keeper | undefined): string {
  if (!keeper?.[4]) return "";
  const [away_pm, error_pm, n, seasons] = keeper;
  return t(away_pm < 0 ? "back.keeper.easy" : "back.keeper.hard", {
    name, pct: Math.abs(Math.round(away_pm / 10)), error: Math.round(error_pm / 10), n, seasons,
  });
}
