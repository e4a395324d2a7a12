import catalogue from "../../src/texts/en.json";
import type { Act, Acts } from "../../src/core/outlook/acts/shapes.ts";
import type { DoeResult, Prompt } from "../../src/core/outlook/ground/shapes.ts";
import {
  brings_said, by_plan_said, ketones_said, late, lines_said, none_said, raises_grain, title,
} from "../../src/ui/acts/words.ts";
import { say } from "../../src/ui/sentences/prompt.ts";
import { restWords, watchBeside } from "../../src/ui/sentences/resting.ts";
import { answerable, asks_reading } from "../../src/ui/acts/answerable.ts";
import { speak, t } from "../../src/ui/words/text.ts";
import type { Outlook } from "../../src/core/outlook/ground/documents.ts";
import type { DryPlan, RisePlan } from "../../src/core/outlook/plans/shapes.ts";
import { drySaid, riseSaid, type Rising } from "../../src/ui/plans/says.ts";
import { dryRows, riseRows } from "../../src/ui/plans/words.ts";
import { day } from "./aloud_day.ts";

interface Day {
  on: string;
  view: { does: Record<string, never> };
  feeds: Record<string, never>;
  results: { does: Record<string, DoeResult>; pens: Record<string, { prompt: Prompt | null }> };
  acts: Record<string, Acts>;
  /** The page of one of her year's stretches, and what each doe got that day. */
  page?: ((DryPlan & { of: "dry" }) | (RisePlan & { of: Rising })) & { taken?: boolean; inside?: boolean } | null;
  outlook?: Outlook;
  ate?: Record<string, { me?: number; ca?: number; grain_g?: number }>;
}
interface Farm {
  farm: string;
  days: Day[];
}
const MORNING_MS = 6 * 3_600_000;

/** Every farm's does, each with what she is told from when to when. */
export function read_aloud(farms: Farm[]): string[] {
  speak(catalogue, "en");
  return farms.flatMap(({ farm, days }) => [
    "", `## ${farm}`, ...pages(days), ...subjects(days).flatMap((id) => course(id, days)), ...ate(days),
  ]);
}

/** What her plan's page says, on each day on which it says something else; its steps where they are put in. */
function pages(days: Day[]): string[] {
  let before = "";
  return days.flatMap((told, n) => {
    const { page, view, on } = told;
    if (!page) return [];
    show(told);
    const doe = view.does[page.doe]!;
    const { outlook } = told as Required<Day>;
    const rows = page.of === "dry" ? dryRows(page) : riseRows(page);
    const said = page.of === "dry" ? drySaid(page, doe, outlook.due!.early) : riseSaid(page, page.of, doe, outlook);
    const says = Object.values(said).flat();
    const [held_on, none] = page.of === "dry" ? ["", ""] : [page.held_on, page.none];
    const head = `${page.of}${held_on ? " HELD" : ""}${none ? ` (${none})` : ""}`;
    const text = [head, ...says.filter(Boolean)].join(" | ");
    const steps = page.taken ? rows.map((row) => `       ${day.spoken(row.on)}: ${row.texts.join(" ")}`) : [];
    const like = text.replace(MOVING, "#");
    // what is in her plan is shown in its place
    if (page.inside || (like === before && !page.taken)) return [];
    before = like;
    const mark = page.taken ? " TAKEN" : page.lines.length ? " (offers)" : "";
    return [`  page, day ${n} (${on})${mark}: ${text}`, ...steps];
  });
}

/** Percent of need as energy/calcium and grams of dry grain, every third day. */
function ate(days: Day[]): string[] {
  if (!days[0]?.ate) return [];
  const at = days.filter((_, n) => n % 3 === 0);
  const of = (pm?: number) => (pm === undefined ? "-" : Math.round(pm / 10));
  return Object.keys(days[0].ate).map((id) => {
    const each = at.map(({ ate: got }) => `${of(got?.[id]?.me)}/${of(got?.[id]?.ca)} ${got?.[id]?.grain_g ?? 0}`);
    return `  ${id} ate: ${each.join(" | ")}`;
  });
}

function show({ view, feeds, results, on }: Day) {
  Object.assign(day, { view, feeds, results, today: on, now: Date.parse(on) + MORNING_MS });
}

function subjects(days: Day[]): string[] {
  const of_day = ({ results: { does, pens } }: Day) => [
    ...Object.keys(pens).map((pen) => `pen ${pen}`), ...Object.keys(does),
  ];
  return [...new Set(days.flatMap(of_day))];
}

function course(id: string, days: Day[]): string[] {
  const stretches: { from: number; to: number; text: string; like: string }[] = [];
  days.forEach((told, n) => {
    show(told);
    const text = id.startsWith("pen ") ? of_pen(id.slice(4), told) : of_doe(id, told);
    const last = stretches.at(-1);
    const like = words(text);
    const acts = text.includes("\n") && !last?.text.includes(codes(text));
    if (last?.like === like && !acts) last.to = n;
    else stretches.push({ from: n, to: n, text, like });
  });
  if (stretches.every(({ text }) => text === "")) return [];
  return [`# ${id}`, ...stretches.map(({ from, to, text }) => `  day ${from}${to > from ? `-${to}` : ""}: ${text}`)];
}

/** What is said without its numbers and days, and without what can be done about it. */
const MOVING = /[\d.,]+|\b(Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day\b|tomorrow|today/g;
const words = (text: string) => text.split("\n")[0]!.split(" | ").slice(0, 2).join().replace(MOVING, "#");
const codes = (text: string) => /[=~] ([^/\d]+)/.exec(text)?.[1] ?? "";

function of_pen(pen: string, { results, acts }: Day): string {
  const prompt = results.pens[pen]?.prompt;
  return prompt ? said(prompt, acts[pen]) : "";
}

function of_doe(id: string, { results, view, acts }: Day): string {
  const result = results.does[id]!;
  const { standing } = result;
  const rests = () => (standing === "ok" ? restWords(result, view.does[id]!) : t(`doe.standing.${standing}`));
  if (!result.prompt) return rests();
  const beside = watchBeside(result, view.does[id]!);
  if (result.prompt.in_pen) return `(as her pen)${beside ? ` + ${beside}` : ""}`;
  return [said(result.prompt, acts[id]), beside].filter(Boolean).join(" + ");
}

function said(prompt: Prompt, acts: Acts | undefined): string {
  const { text, why, act } = say(prompt);
  const offered = answerable({ prompt }) ? done(prompt, acts) : [];
  // her page says in general what to do only where it offers nothing
  const told = answerable({ prompt }) && !asks_reading({ prompt }) && (!acts || acts.by_plan || acts.offered.length);
  const general = told ? [] : [act];
  return [`[${prompt.code}] ${[text, why, ...general].join(" | ")}`, ...offered].join("\n       ");
}

/** What her page offers: the first, and the others after it. */
function done(prompt: Prompt, acts: Acts | undefined): string[] {
  if (!acts?.for) return [];
  const { state } = prompt.args;
  if (acts.by_plan) return [`= ${by_plan_said(acts, state)}`];
  const ketones = [ketones_said(acts, prompt)].filter(Boolean).map((line) => `= ${line}`);
  const each = acts.offered.map((act, n) => `${n ? "~" : "="} ${act_said(act)}`);
  if (each.length) return [...each, ...ketones];
  const helps = acts.none?.helps ? [`${t("act.none.helps")} ${act_said(acts.none.helps)}`] : [];
  return [...none_said(acts, state), ...helps].map((line) => `= ${line}`);
}

function act_said(act: Act): string {
  const lines = lines_said(act).flatMap(({ text, steps }) => [text, ...steps]);
  const parts = [title(act), ...lines, ...brings_said(act)];
  if (raises_grain(act)) parts.push(t("act.grain_while"));
  if (late(act)) parts.push(t("act.late"));
  if (act.slow) parts.push(t("act.slow"));
  return parts.join(" / ");
}
