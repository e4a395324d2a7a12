import { isMajor } from "../../core/barn/lab/minerals.ts";
import type { CardAlert, Source } from "../../core/outlook/card.ts";
import { feedInfo, shortly } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { decimal, t } from "../words/text.ts";

const UG_PER_MG = 1000;
const RATIOS = ["copper_to_molybdenum_low", "copper_builds_up"];
const OF_MAJORS = [
  "sulfur_high", "potassium_before_kidding", "magnesium_before_kidding", "mg_over", "k_over", "na_over", "cl_over",
];

const few = (value: number) => decimal(value, value >= 100 ? 0 : value >= 10 ? 1 : 2);

/** A content of the diet's dry matter. */
export function content(ug_kg: number, major: boolean): string {
  return major ? `${few(ug_kg / UG_PER_MG ** 2)} g/kg` : `${few(ug_kg / UG_PER_MG)} mg/kg`;
}

/** What one doe gets of it a day. */
export function aDay(ug_d: number, does: number, el: string): string {
  const ug = ug_d / Math.max(1, does);
  return isMajor(el) ? `${few(ug / UG_PER_MG ** 2)} g` : `${few(ug / UG_PER_MG)} mg`;
}

export function sourceName(id: string): string {
  return id === "water" ? t("card.source.water") : shortly(feedInfo(day.view, day.feeds, id).name);
}

export function alertText({ code, value, limit, at_least }: CardAlert): string {
  const show = (n: number) =>
    RATIOS.includes(code) ? decimal(n / UG_PER_MG, 1) : content(n, OF_MAJORS.includes(code));
  return t(`card.a.${code}`, {
    value: `${at_least ? `${t("card.at_least")} ` : ""}${show(value)}`, limit: show(limit),
  });
}

export const alertElement = (code: string): string => {
  const [first = ""] = code.split("_");
  const named: Record<string, string> = {
    selenium: "se", copper: "cu", sulfur: "s", iron: "fe", molybdenum: "mo", zinc: "zn", potassium: "k",
    magnesium: "mg", two: code.includes("selenium") ? "se" : "cu",
  };
  return named[first] ?? first;
};

export const sourcesText = (sources: Source[], does: number, el: string): string =>
  sources.map(([id, ug_d]) => t("card.source", { name: sourceName(id), amount: aDay(ug_d, does, el) })).join("; ");
