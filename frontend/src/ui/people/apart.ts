import { days_apart, type Stay } from "../../core/barn/stays.ts";
import type { Pack } from "../../core/barn/packs.ts";
import { day } from "../model/day.svelte.ts";
import type { PersonRow } from "../../core/phone/store/rows.ts";
import { calendar, span } from "../words/format.ts";
import { t } from "../words/text.ts";
import { carriers } from "./carriers.ts";

/** Somebody whose place on the farm has other days than the pack she goes by, and those she would be given. */
export interface Apart {
  person: PersonRow;
  pack: Pack;
  days: Stay;
}

export function apartOf(packs: Pack[]): Apart[] {
  const all = packs.flatMap((pack) =>
    carriers(pack.id).map((person) => ({ person, pack, days: days_apart(pack, person, day.today) })),
  );
  return all.filter(({ days }) => Object.keys(days).length);
}

const said = (on: string) => calendar(on, day.today);

/** "Wilfa's place ends 4 Dec, the pack 6 Dec." */
export function apartSaid({ person: { name, starts_on = "", ends_on = "" }, days }: Apart): string {
  return [
    days.starts_on && t("place.begins", { name, on: said(starts_on), to: said(days.starts_on) }),
    days.ends_on && t("place.ends", { name, on: said(ends_on), to: said(days.ends_on) }),
  ].filter(Boolean).join(" ");
}

export function giveSaid({ person: { name, ends_on = "" }, pack, days }: Apart): string {
  if (days.starts_on) return t("place.give.days", { name, days: span(pack.from_on, pack.to_on, day.today) });
  return t(days.ends_on! < ends_on ? "place.give.less" : "place.give", { name, to: said(days.ends_on!) });
}
