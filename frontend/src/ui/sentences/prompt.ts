import { LOOK_NOW } from "../../core/tables/prompts.ts";
import { feedInfo } from "../model/herd.ts";
import { amount, ketones, percent, score, warmth } from "../words/format.ts";
import { spokenStep } from "./amounts.ts";
import { day } from "../model/day.svelte.ts";
import type { Prompt } from "../model/results.ts";
import { has, t, type Args } from "../words/text.ts";

export interface Said {
  text: string;
  why: string;
  act: string;
  urgent: boolean;
}

export { LOOK_NOW };
const WORDS = ["how", "slot", "stage", "witness", "what"];
const AMOUNTS = ["g", "limit", "now", "then", "day", "most", "meal", "hay_g"];
const RATIOS = ["x100", "low", "high", "ratio", "least", "fell"];

/** A prompt in words. A code this app has no words for says that the app must be updated, and shows the code. */
export function say(prompt: Prompt): Said {
  const args = spoken(prompt);
  const base = `p.${prompt.code}`;
  const pick = (part: string) => keys(prompt, base, part).find(has);
  const text = pick("");
  return {
    text: text ? t(text, args) : t("p.unknown", { code: prompt.code }),
    why: t(pick(".why") ?? "empty", args),
    act: t(pick(".do") ?? "empty", args),
    urgent: LOOK_NOW.includes(prompt.code),
  };
}

/** The most particular wording first: by stage, by what is missing, by witness; then the plain one. */
function keys(prompt: Prompt, base: string, part: string): string[] {
  const { down, urgency, stage, what, witness, age_d, urine, also, cause, first, legume, ask, state } = prompt.args;
  const flags = ["late", "near", "rule"].filter((flag) => prompt.args[flag] === true);
  const pen = prompt.in_pen && prompt.args["does"];
  const variants = [
    prompt.args["feed"] && what,
    pen && legume === "none" && "pen.none", pen && "pen", prompt.args["apart"] === true && "apart",
    down === true && "down", urgency, stage, what, also, witness, cause, legume, state, ...flags,
    age_d === -1 && "never", urine && "urine", first, ask,
  ].filter(Boolean);
  return [...variants.map((variant) => `${base}${part}.${String(variant)}`), `${base}${part}`];
}

function spoken(prompt: Prompt): Args {
  const args: Args = { name: day.named(prompt.subject) };
  for (const [key, value] of Object.entries(prompt.args)) args[key] = word(key, value);
  const { feed, now, then } = prompt.args;
  if (feed && typeof then === "number") [args["now"], args["then"]] = spokenStep(String(feed), Number(now), then);
  if (prompt.args["how"] === "left_some" && !prompt.args["left_pm"]) args["how"] = t("how.left_unsaid");
  const x10 = Number(prompt.args["x10"]);
  if (x10) args["x10"] = prompt.code.startsWith("temp") ? warmth(x10, day.units) : ketones(x10);
  const pm = prompt.args["pm"];
  if (typeof pm === "number") args["gap"] = percent(Math.abs(1000 - pm));
  const { meals, days, age_d } = prompt.args;
  return { ...args, meals: Number(meals ?? 0), days: Number(days ?? 0), age_d: Number(age_d ?? 0) };
}

function word(key: string, value: unknown): string {
  if (["urine", "mineral"].includes(key)) return value ? t(`o.${key}.${String(value)}`) : "";
  if (key.endsWith("_ms")) return value ? day.when(Number(value)) : "";
  if (key === "on") return day.spoken(String(value));
  if (AMOUNTS.includes(key)) return amount(Number(value), day.units);
  if (RATIOS.includes(key)) return score(Number(value));
  if (key.endsWith("_pm")) return percent(Number(value));
  if (key === "feed") return value ? feedInfo(day.view, day.feeds, String(value)).name : t("grain");
  if (["does", "who"].includes(key) && Array.isArray(value)) return value.map((id) => day.named(String(id))).join(", ");
  return WORDS.includes(key) && value ? t(`${key}.${String(value)}`) : String(value);
}
