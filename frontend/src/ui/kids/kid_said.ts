import { DAY_MS } from "../../core/base/days.ts";
import { kid_of_record } from "../../core/barn/kids.ts";
import { born_ms, is_dead } from "../../core/outlook/kidding/litter.ts";
import { FIRST_DAYS_D } from "../../core/tables/numbers.ts";
import { nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { RecordRow } from "../model/shapes.ts";
import { calendar, dayOf } from "../words/format.ts";
import { t } from "../words/text.ts";
import { milkSaid } from "./words.ts";

const WEEKS_FROM_D = 28;

/** "9 days old", "6 weeks old" */
export function ageOf({ f }: RecordRow): string {
  const days = dayOf(day.today) - dayOf(String(f["born_on"]));
  if (!(days > 0)) return "";
  return days < WEEKS_FROM_D ? t("kid.age.days", { n: days }) : t("kid.age.weeks", { n: Math.floor(days / 7) });
}

export const damOf = ({ f }: RecordRow) => nameOf(day.view.does[String(f["dam"])]);

export function stateOf(kid: RecordRow): string {
  const { f } = kid;
  if (is_dead(kid)) return t("kids.line.dead");
  if (f["grown"]) return t("kid.grown");
  return f["out"] ? t(`kid.out.${String(f["out"])}`) : ageOf(kid);
}

/** What stands beside it in the list: doeling or buckling, dam and sire, born, how old. */
export function kidNote(kid: RecordRow): string {
  const { f } = kid;
  const dam = damOf(kid);
  const parents = f["sire"] ? t("kid.of.both", { dam, sire: String(f["sire"]) }) : t("kid.of", { dam });
  const born = t("kid.born", { on: calendar(String(f["born_on"]), day.today) });
  return [f["sex"] && t(`kid.sex.${String(f["sex"])}`), parents, born, stateOf(kid)].filter(Boolean).join(", ");
}

/** What it drank in its first days, as it was put down with its dam. */
export function firstFeeds(kid: RecordRow): string[] {
  const { kid_looks: looks = [] } = day.view.does[String(kid.f["dam"])] ?? {};
  const line = kid_of_record(day.view, kid.id);
  const ids = [kid.id, ...(line?.others ?? [])];
  const from = born_ms(kid) - DAY_MS;
  const to = born_ms(kid) + FIRST_DAYS_D * DAY_MS;
  return looks
    .filter(({ of, kid: n }) => (of ? ids.includes(of) : n === kid.f["n"]))
    .filter((look) => look.fed && look.happened >= from && look.happened <= to)
    .map(({ happened, fed, fed_g }) =>
      `${day.when(happened)}: ${t(`kids.line.${fed}`, { ml: fed_g ? ` ${milkSaid(fed_g)}` : "" })}`,
    );
}
