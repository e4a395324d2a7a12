import { addDays, dayOf, FarmZone } from "../../core/base/days.ts";
import { decimal as round, t } from "./text.ts";

export type Units = "metric" | "lb";

const OZ_G = 28.349523;
const LB_OZ = 16;
export const LB_G = OZ_G * LB_OZ;
const KJ_PER_MCAL = 4184;

/** Feed amounts: grams below a kilogram, ounces below a pound. */
export function amount(g: number, units: Units): string {
  return units === "lb" ? pounds(g) : g < 1000 ? `${Math.round(g)} g` : `${round(g / 1000, g < 10_000 ? 2 : 1)} kg`;
}

function pounds(g: number): string {
  const oz = g / OZ_G;
  if (oz < LB_OZ - 0.25) return `${round(Math.round(oz * 2) / 2, 1)} oz`;
  if (oz >= 10 * LB_OZ) return `${round(oz / LB_OZ, 1)} lb`;
  const whole = Math.round(oz);
  const rest = whole % LB_OZ;
  return rest ? `${Math.floor(whole / LB_OZ)} lb ${rest} oz` : `${whole / LB_OZ} lb`;
}

/** Body and milk weights. */
export function heavy(g: number, units: Units): string {
  return units === "lb" ? `${round(g / LB_G, 1)} lb` : `${round(g / 1000, g < 10_000 ? 2 : 1)} kg`;
}

const QUARTERS = ["", "¼", "½", "¾"];

/** Five quarters as "1¼". */
export function inQuarters(quarters: number): string {
  return `${Math.floor(quarters / 4) || (quarters % 4 ? "" : "0")}${QUARTERS[quarters % 4]}`;
}

export function flakes(g: number, flake_g: number): string {
  const quarters = Math.round((4 * g) / flake_g);
  return t("flakes", { count: inQuarters(quarters), n: quarters / 4 });
}

export function energy(kj: number, units: Units): string {
  return units === "lb" ? `${round(kj / KJ_PER_MCAL, 1)} Mcal` : `${round(kj / 1000, 1)} MJ`;
}

export function nutrient(mg: number): string {
  const g = mg / 1000;
  return `${round(g, g < 20 ? 1 : 0)} g`;
}

export function warmth(c_x10: number, units: Units): string {
  return units === "lb" ? `${round(c_x10 * 0.18 + 32, 1)} °F` : `${round(c_x10 / 10, 1)} °C`;
}

export const ketones = (x10: number) => `${round(x10 / 10, 1, true)} mmol/L`;
export const score = (x100: number) => round(x100 / 100, 2, true).replace(/0$/, "");
/** A score that is foretold: nobody knows it to a quarter. */
export const foretold = (x100: number) => round(x100 / 100, 1, true);
export const percent = (pm: number) => `${Math.round(pm / 10)} %`;

/** Nearer than that a due date is said everywhere. */
export const DUE_SOON_D = 30;
/** How it is said that so many days are left. */
export const dueWord = (days: number) => (days > 0 ? "row.due" : days < 0 ? "row.past_due" : "row.due_today");

/** A date in words: today, a weekday within the week, else day and month. */
export function day(on: string, today: string): string {
  const away = dayOf(on) - dayOf(today);
  if (Number.isNaN(away)) return "";
  if (away >= -1 && away <= 1) return t(`day.${away}`);
  if (away > 1 && away < 7) return t(`weekday.${weekday(on)}`);
  return t("day.date", { date: calendar(on, today) });
}

/** A day beside a meal: where one word is both morning and tomorrow, tomorrow goes by its weekday. */
export function mealDay(on: string, today: string): string {
  if (dayOf(on) - dayOf(today) !== 1) return day(on, today);
  return t("day.1.meal") || t(`weekday.${weekday(on)}`);
}

/** A day that must not be mistaken: its weekday and its date, however near. */
export function dated(on: string, today: string): string {
  return `${t(`weekday.${weekday(on)}`)} ${calendar(on, today)}`;
}

const weekday = (on: string) => (((dayOf(on) + 4) % 7) + 7) % 7;

export function calendar(on: string, today = ""): string {
  const [year, month, date] = on.split("-");
  const text = t("date", { date: Number(date), month: t(`month.${Number(month)}`) });
  return year === today.slice(0, 4) || Math.abs(dayOf(on) - dayOf(today)) < 200 ? text : `${text} ${year}`;
}

export function span(from: string, to: string, today: string): string {
  if (from === to) return calendar(from, today);
  const short = from.slice(0, 7) === to.slice(0, 7);
  return `${short ? Number(from.slice(8)) : calendar(from, today)}–${calendar(to, today)}`;
}

export function clock(ms: number, zone: string): string {
  const { hour, minute } = new FarmZone(zone).at(ms);
  return [hour, minute].map((part) => String(part).padStart(2, "0")).join(":");
}

/** From then on nobody counts in hours: "4 days", not "96 h 22 min". */
const TWO_DAYS_MIN = 2880;

/** "25 min", "3 h 40 min", "4 days" */
export function away(minutes: number): string {
  const [h, min] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  if (Math.abs(minutes) >= TWO_DAYS_MIN) return t("off.days", { n: Math.floor(h / 24) });
  return h ? t(min ? "off.h_min" : "off.h", { h, min }) : t("off.min", { min });
}

export function age(ms: number): string {
  const minutes = Math.max(0, Math.floor(ms / 60_000));
  if (minutes < 1) return t("age.now");
  if (minutes < 60) return t("age.min", { n: minutes });
  if (minutes < TWO_DAYS_MIN) return t("age.hours", { n: Math.floor(minutes / 60) });
  return t("age.days", { n: Math.floor(minutes / 1440) });
}

export { addDays, dayOf };
