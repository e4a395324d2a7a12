import { as_of, is_timed, prompt_at } from "../../core/outlook/whole/in_time.ts";
import { GRAIN_ROUND_G } from "../../core/tables/numbers.ts";
import { LOOK_NOW, RANKS, type PromptCode } from "../../core/tables/prompts.ts";
import { RESTS, RESTS_OF, type Rest } from "../../core/tables/off_feed.ts";
import { feedInfo } from "../model/herd.ts";
import { amount, foretold, ketones, percent, score, warmth } from "../words/format.ts";
import { spokenStep } from "./amounts.ts";
import { day } from "../model/day.svelte.ts";
import type { DoeResult, Prompt } from "../model/results.ts";
import { has, in_a_row, t, type Args } from "../words/text.ts";

type Timed = Parameters<typeof as_of>[0];

export interface Said {
  text: string;
  why: string;
  act: string;
  urgent: boolean;
  /** The code and urgency as the clock has them by now. */
  prompt: Prompt;
}

export { LOOK_NOW };
const WORDS = ["slot", "stage", "witness", "what"];
const AMOUNTS = ["g", "limit", "now", "then", "day", "most", "meal", "hay_g", "least_g"];
const RATIOS = ["x100", "low", "high", "ratio", "least", "fell", "from"];

/** A prompt in words. A code this app has no words for says that the app must be updated, and shows the code. */
export function say(told: Prompt): Said {
  const prompt = in_time(told);
  const args = spoken(prompt);
  const base = `p.${prompt.code}`;
  const pick = (part: string) => keys(prompt, base, part).find(has);
  const text = pick("");
  return {
    text: text ? t(text, args) : t("p.unknown", { code: prompt.code }),
    why: t(pick(".why") ?? "empty", args),
    act: [t(pick(".do") ?? "empty", args), takeOf(prompt.args)].filter(Boolean).join(" "),
    urgent: LOOK_NOW.includes(prompt.code),
    prompt,
  };
}

/** The clock is read only where something waits for it: nothing else is drawn anew as it goes. */
export function in_time<T extends Timed>(said: T): T {
  return is_timed(said) ? as_of(said, day.now) : said;
}

/** Her prompt as the clock has it. */
export function promptOf(result: DoeResult | undefined): Prompt | null {
  if (!result) return null;
  return result.first_days.some(is_timed) ? prompt_at(result, day.now) : result.prompt;
}

/** Grain eaten in a jump, where something else is said of her first. */
export function besideOf({ id, ate_grain }: DoeResult, prompt: Prompt | null): Prompt | null {
  if (!ate_grain || !prompt || prompt.code === ate_grain.code) return null;
  return { ...ate_grain, rank: RANKS[ate_grain.code], subject: id, in_pen: false };
}

/** What is said of her kids and her afterbirth by now, the gravest first. */
export function firstDays(result: DoeResult | undefined): Prompt[] {
  const words = (result?.first_days ?? []).map(in_time);
  const prompts = words.map((word) => ({ ...word, subject: result!.id, in_pen: false, rank: RANKS[word.code] }));
  return prompts.sort((a, b) => a.rank - b.rank);
}

/** Readings her case still lacks; none is asked for while she is down. */
export function takeOf({ take, stage, down }: Prompt["args"]): string {
  const key = `off.take.${String(take ?? "")}`;
  return !take || down ? "" : t([`${key}.${String(stage)}`, key].find(has)!);
}

export interface RestShown {
  text: string;
  standing: string;
  source: string;
}

/** What a word goes by, and how that stands. */
export function restsOf({ args, code }: Pick<Prompt, "args"> & Partial<Pick<Prompt, "code">>): RestShown[] {
  const rests = (args["rests"] ?? (code && RESTS_OF[code]) ?? []) as Rest[];
  return rests.filter((rest) => rest in RESTS).map((rest) => ({
    text: t(`basis.${rest}`), source: RESTS[rest][0], standing: t(`standing.${RESTS[rest][1]}`),
  }));
}

/** The most particular wording first: by stage, by what is missing, by witness; then the plain one. */
function keys(prompt: Prompt, base: string, part: string): string[] {
  const { down, urgency, stage, what, witness, age_d, urine, also, cause, first, legume, ask, state } = prompt.args;
  const { why, feed, rests, recheck_ms } = prompt.args;
  const flags = ["late", "near", "rule"].filter((flag) => prompt.args[flag] === true);
  const pen = prompt.in_pen && prompt.args["does"];
  const rest = part === ".why" && Array.isArray(rests) ? String(rests[0]) : "";
  const lying = down === true ? [`${String(stage)}.down`, "down"] : [];
  const variants = [
    rest, is_due(recheck_ms, prompt) && `${String(what)}.due`, feed && what,
    pen && legume === "none" && "pen.none", pen && "pen",
    prompt.args["apart"] === true && "apart",
    ...lying, urgency, stage, what, ...in_state(also, state), ...in_state(witness, state), why, cause, legume,
    state, ...flags, age_d === -1 && "never", urine && "urine", first, ask, feed === "" && "unnamed",
  ].filter(Boolean);
  return [...variants.map((variant) => `${base}${part}.${String(variant)}`), `${base}${part}`];
}

/** As it is said in her state, and of any. */
function in_state(of: unknown, state: unknown): string[] {
  return of ? [`${String(of)}.${String(state)}`, String(of)] : [];
}

/** A look whose time has come; nothing else is drawn anew as the clock goes. */
function is_due(recheck_ms: unknown, { code }: Prompt): boolean {
  return code === "grain_jump_back" && Number(recheck_ms) > 0 && Number(recheck_ms) <= day.now;
}

function spoken(prompt: Prompt): Args {
  const args: Args = { name: day.named(prompt.subject) };
  for (const [key, value] of Object.entries(prompt.args)) args[key] = word(key, to_tens(prompt.code, key, value));
  if (prompt.code === "condition_ahead_low") args["x100"] = foretold(Number(prompt.args["x100"]));
  const { feed, now, then } = prompt.args;
  if (feed && typeof then === "number") [args["now"], args["then"]] = spokenStep(String(feed), Number(now), then);
  if (prompt.args["how"]) args["how"] = howOf(prompt.args);
  if (Array.isArray(prompt.args["signs"]))
    args["signs"] = prompt.args["signs"].map((sign) => t(`near.${String(sign)}`)).join(", ");
  const x10 = Number(prompt.args["x10"]);
  if (x10) args["x10"] = prompt.code.startsWith("temp") ? warmth(x10, day.units) : ketones(x10);
  const pm = prompt.args["pm"];
  if (typeof pm === "number") args["gap"] = percent(Math.abs(1000 - pm));
  const kids = prompt.code === "kid_no_colostrum" ? prompt.args["dry"] : prompt.args["kids"];
  if (Array.isArray(kids)) args["n"] = kids.length;
  const { meals, days, age_d } = prompt.args;
  return { ...args, meals: Number(meals ?? 0), days: Number(days ?? 0), age_d: Number(age_d ?? 0) };
}

const LIMITS = ["limit", "most", "meal"];

/** Grain is reckoned to the gram, and weighed out by nobody so: a limit is rounded to the careful side. */
function to_tens(code: PromptCode, key: string, value: unknown): unknown {
  if (typeof value !== "number" || !AMOUNTS.includes(key) || !/^(grain|step)_/.test(code)) return value;
  // what she goes back to she has held
  const floor = LIMITS.includes(key) && code !== "grain_jump_back";
  return GRAIN_ROUND_G * (floor ? Math.floor : Math.round)(value / GRAIN_ROUND_G);
}

/** How it went at the meal; of a buck his own feed. */
export function howOf({ how, left_pm, stage }: Prompt["args"]): string {
  const key = `how.${how === "left_some" && !left_pm ? "left_unsaid" : String(how)}`;
  return t([`${key}.${String(stage)}`, key].find(has)!);
}

/** Kids by their numbers, does by their names. */
function listed(key: string, value: unknown[]): string {
  return in_a_row(value.map((one) => (["does", "who"].includes(key) ? day.named(String(one)) : String(one))));
}

function word(key: string, value: unknown): string {
  if (["urine", "mineral"].includes(key)) return value ? t(`o.${key}.${String(value)}`) : "";
  if (key.endsWith("_ms")) return value ? day.near(Number(value)) : "";
  if (key === "on") return day.spoken(String(value));
  if (AMOUNTS.includes(key)) return amount(Number(value), day.units);
  if (RATIOS.includes(key)) return score(Number(value));
  if (key.endsWith("_pm")) return percent(Number(value));
  if (key === "feed") return value ? feedInfo(day.view, day.feeds, String(value)).name : t("grain");
  if (Array.isArray(value)) return listed(key, value);
  return WORDS.includes(key) && value ? t(`${key}.${String(value)}`) : String(value);
}
