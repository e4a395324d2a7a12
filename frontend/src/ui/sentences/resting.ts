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

/** The call is made by day, and the looks at her go on. */
export const BESIDE_WATCH = ["overdue", "udder_watch"];

/** The watch does not rest because something else is said of her, unless that is to be looked at now. */
export function watchBeside(result: DoeResult, doe: Doe): string {
  const { code, args } = rest(result, doe);
  if (!isDoe(result)) return "";
  const now = result.prompt?.code ?? "";
  return code === "watch" && (!LOOK_NOW.includes(now) || BESIDE_WATCH.includes(now)) ? watch(args) : "";
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

/** Where nothing is worked out for her feed, past all her dates or before a signal, she is watched all the same. */
const isDoe = ({ standing }: DoeResult): boolean => standing !== "buck";

/** The watch in words whatever else is said of her, and when the next look falls due: 0 where nobody has looked. */
export function watchWords(result: DoeResult, doe: Doe): { text: string; due: number } | null {
  if (!isDoe(result)) return null;
  const { code, args } = rest(result, doe);
  if (code !== "watch") return null;
  // once she pushes or her water shows, minutes count and somebody stays
  if (result.labour) return { text: "", due: result.labour.args.since_ms };
  return { text: watch(args), due: Number(args["due_ms"]) };
}

/** When somebody is to look again at a doe whose signs were seen or looked for; null where nobody has. */
export function watchOf(result: DoeResult, doe: Doe): { text: string; due: number } | null {
  if (!isDoe(result)) return null;
  const { code, args } = rest(result, doe);
  const last_ms = Number(args["last_ms"] ?? 0);
  if (code !== "watch" || !last_ms) return null;
  return { text: watch(args), due: Number(args["due_ms"]) };
}

function rest(result: DoeResult, doe: Doe) {
  const near = { table: day.signs, unattended_h: ruleOf("unattended_h"), minute: day.minute };
  const found = resting(result, doe, day.today, day.now, ruleOf("late_day"), near);
  // what is said of her first says it already
  return result.prompt?.code === "overdue" ? { ...found, args: { ...found.args, past_d: 0 } } : found;
}

function watch(args: Record<string, unknown>): string {
  const { signs, hours, last_ms, next_ms, early, past_d } = args;
  const there = args["there"] as string[];
  if (!last_ms) return [past(past_d), t("rest.watch", { hours: Number(hours) })].filter(Boolean).join(" ");
  const next = next_ms ? day.near(Number(next_ms)) : "";
  const could = t(day.hour >= EVENING_H || day.hour < FIRST_LIGHT_H ? "rest.watch.tonight" : "rest.watch.today");
  const mild = signs === "quiet" && there.length > 0;
  const what = capital(in_a_row(there.map((sign) => t(`near.${sign}`))));
  const told = { what, last: day.near(Number(last_ms)), next, hours: Number(hours), could };
  const how = early ? "early" : signs === "signs" && !there.length ? "eased" : mild ? "soft" : String(signs);
  const also = there.includes("off_feed") ? t("rest.watch.off_feed") : "";
  return [past(past_d), t(`rest.watch.${how}${next_ms ? "" : ".due"}`, told), also].filter(Boolean).join(" ");
}

const past = (days: unknown) => (days ? t("rest.watch.past", { n: Number(days) }) : "");
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
