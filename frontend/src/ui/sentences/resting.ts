import { resting, type Rest } from "../../core/outlook/words/resting.ts";
import { LOOK_NOW } from "../../core/tables/prompts.ts";
import type { Rest as BasisRow } from "../../core/tables/off_feed.ts";
import { SLOT_FROM_H } from "../../core/tables/numbers.ts";
import { day } from "../model/day.svelte.ts";
import { FIRST_LIGHT_H } from "../model/hours.ts";
import type { DoeResult } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";
import { score } from "../words/format.ts";
import { in_a_row, t } from "../words/text.ts";
import { ruleOf } from "./amounts.ts";

/** What a row has room and reason for: somebody should look at her. */
const OF_ROW: readonly Rest[] = ["watch", "fresh", "fresh_daily", "many", "close_up", "not_dried"];

/** From then on the night to come is what is asked after. */
const EVENING_H = SLOT_FROM_H.evening;

/** What the looks at her go by, near kidding and fresh. */
const BASIS: Partial<Record<Rest, BasisRow>> = { watch: "watch_gap", fresh: "fresh_daily", fresh_daily: "fresh_daily" };

export function basisOf(result: DoeResult, doe: Doe): BasisRow[] {
  const basis = BASIS[rest(result, doe).code];
  return basis ? [basis] : [];
}

export function restWords(result: DoeResult, doe: Doe): string {
  const { code, args } = rest(result, doe);
  const short = (args["short"] as string[] | undefined) ?? [];
  const named = { short: in_a_row(short.map((key) => t(`nutrient.${key}`).toLowerCase())) };
  const args_of = { ...named, ...next(result), ...act(args), n: ruleOf("fresh_days") };
  const kids = code === "on_act" && result.due && result.due.early <= String(args["until"]);
  const said = code === "watch" ? watch(args) : t(kids ? "rest.on_act.kids" : `rest.${code}`, args_of);
  return short.length && code !== "short" ? `${said} ${t("rest.and_short", named)}` : said;
}

/** The score she is to be judged by next, and the day of it. */
function next({ awaited }: DoeResult): Record<string, string> {
  return awaited ? { on: day.spoken(awaited.on), x100: score(awaited.x100) } : { on: "", x100: "" };
}

/** From when an act stands in her plan, and how far it was worked out. */
function act({ on, until }: Record<string, unknown>): Record<string, string> {
  return typeof on === "string" && on ? { on: day.spoken(on), until: day.spoken(String(until)) } : {};
}

/** The watch does not rest because something else is said of her, unless that is to be looked at now. */
export function watchBeside(result: DoeResult, doe: Doe): string {
  const { code, args } = rest(result, doe);
  return code === "watch" && !LOOK_NOW.includes(result.prompt?.code ?? "") ? watch(args) : "";
}

/** Late a doe that was short is watched on while what was put in her plan is fed. */
export function watchOnAct({ on_acts, gest }: DoeResult): string {
  const fed_more = on_acts.some(({ of, way }) => of === "me" && way === "up");
  return fed_more && gest >= ruleOf("late_day") ? t("rest.on_act.watch") : "";
}

/** Empty where the row's mark says it all. */
export function restOfRow(result: DoeResult, doe: Doe): string {
  if (result.prompt) return watchBeside(result, doe);
  const { code, args } = rest(result, doe);
  if (!OF_ROW.includes(code)) return "";
  return code === "watch" ? watch(args) : t(`rest.${code}.row`);
}

/** The watch in words whatever else is said of her, and when the next look falls due: 0 where nobody has looked. */
export function watchWords(result: DoeResult, doe: Doe): { text: string; due: number } | null {
  if (result.standing !== "ok") return null;
  const { code, args } = rest(result, doe);
  return code === "watch" ? { text: watch(args), due: Number(args["due_ms"]) } : null;
}

/** When somebody is to look again at a doe whose signs were seen or looked for; null where nobody has. */
export function watchOf(result: DoeResult, doe: Doe): { text: string; due: number } | null {
  if (result.standing !== "ok") return null;
  const { code, args } = rest(result, doe);
  const last_ms = Number(args["last_ms"] ?? 0);
  if (code !== "watch" || !last_ms) return null;
  return { text: watch(args), due: Number(args["due_ms"]) };
}

function rest(result: DoeResult, doe: Doe) {
  const near = { table: day.signs, unattended_h: ruleOf("unattended_h"), minute: day.minute };
  return resting(result, doe, day.today, day.now, ruleOf("late_day"), near);
}

function watch({ signs, hours, last_ms, next_ms }: Record<string, unknown>): string {
  if (!last_ms) return t("rest.watch", { hours: Number(hours) });
  const next = next_ms ? day.when(Number(next_ms)) : "";
  const could = t(day.hour >= EVENING_H || day.hour < FIRST_LIGHT_H ? "rest.watch.tonight" : "rest.watch.today");
  const args = { last: day.when(Number(last_ms)), next, hours: Number(hours), could };
  return t(`rest.watch.${String(signs)}${next_ms ? "" : ".due"}`, args);
}
