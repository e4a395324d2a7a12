import { FIRST_FEEDS } from "../../core/tables/codes.ts";
import { BRED_WEEKS, FLAKE_GUESS_G, KIDDED_WEEKS, SIZE_KG } from "../../core/tables/numbers.ts";
import { day } from "../model/day.svelte.ts";
import { heavy } from "../words/format.ts";
import { t } from "../words/text.ts";

export interface Pick {
  value: string;
  label: string;
  note?: string;
  drawing?: string;
}

const words = (of: string, values: readonly string[], drawn = false): Pick[] =>
  values.map((value) => ({ value, label: t(`setup.${of}.${value}`), ...(drawn ? { drawing: `${of}.${value}` } : {}) }));

export const units = (): Pick[] => words("units", ["metric", "lb"]);
export const sizes = (): Pick[] =>
  words("size", Object.keys(SIZE_KG), true).map((one) => ({
    ...one,
    note: t("setup.about", { g: heavy(SIZE_KG[one.value as keyof typeof SIZE_KG] * 1000, day.units) }),
  }));
export const states = (): Pick[] =>
  words("state", ["milk", "milk_first", "dry", "never"], true)
    .map((one) => ({ ...one, note: t(`setup.state.note.${one.value}`) }));
export const hays = (): Pick[] => words("hay", Object.keys(FIRST_FEEDS.hay), true);
export const grains = (): Pick[] => words("grain", Object.keys(FIRST_FEEDS.grain));
export const flakes = (): Pick[] =>
  words("flake", Object.keys(FLAKE_GUESS_G), true).map((one) => ({
    ...one,
    note: t("setup.about", { g: day.amount(FLAKE_GUESS_G[one.value as keyof typeof FLAKE_GUESS_G]) }),
  }));

const MONTH_D = 30.4;
/** "6 weeks", "3 months". */
export function longAgo(weeks: number): string {
  const months = Math.round((weeks * 7) / MONTH_D);
  return weeks < 9 ? t("setup.weeks", { n: weeks }) : t("setup.months", { n: months });
}
export const bredWeeks = (): Pick[] => BRED_WEEKS.map((n) => ({ value: String(n), label: String(n) }));
export const kiddedWeeks = (): Pick[] => KIDDED_WEEKS.map((n) => ({ value: String(n), label: longAgo(n) }));
export const kids = (): Pick[] => ["1", "2", "3", "4"].map((value) => ({ value, label: value }));
