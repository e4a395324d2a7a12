import type { Act, ActLine, Acts, Brings, Lacking, Move } from "../../core/outlook/acts/shapes.ts";
import { is_grain } from "../../core/outlook/ground/feed_classes.ts";
import { SLOTS } from "../../core/tables/entries.ts";
import { AHEAD_D } from "../../core/tables/numbers.ts";
import type { Prompt } from "../model/results.ts";
import { percent } from "../words/format.ts";
import { doesIn, shortly } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { flakeOf, infoOf, ruleOf, spokenAmount } from "../sentences/amounts.ts";
import { has, in_a_row, t } from "../words/text.ts";

/** What a hand measures within so much of what is meant is said by the hand, else by the scale. */
const HAND_PM = 50;

/** By her container where the amount is parts of it, else its weight. */
function handed(feed: string, g: number): string {
  const { g: flake_g } = flakeOf(feed);
  const half_g = flake_g / 2;
  const off = flake_g ? Math.abs(g - Math.round(g / half_g) * half_g) * 1000 > flake_g * HAND_PM : false;
  return off ? day.amount(g) : spokenAmount(feed, g);
}

const feedOf = (feed: string) => shortly(infoOf(feed).name);

/** What one feed comes to: in a sentence, and its later steps one by one where there are several. */
interface LineSaid {
  text: string;
  steps: string[];
}

/** A line a feed: meals with the same amounts are said together. */
export function lines_said(act: Act): LineSaid[] {
  const { moves, lines } = act;
  const first = moves ? [{ text: move_said(moves, lines[0]!.steps[0]![0]), steps: [] }] : [];
  return [...first, ...alike(by_meal(lines), ({ subject, feed, from_g, steps }) => [subject, feed, from_g, steps])
    .map((lines) => said(lines, act))];
}

export type Moved = Pick<Move, "doe" | "pen">;

/** A pen that is made by the move is named after her. */
export const pen_said = ({ doe, pen }: Moved): string =>
  day.named(pen) || t("act.move.pen", { name: day.named(doe) });

/** Never by herself out of sight of the others. */
export function move_said(move: Moved, on: string): string {
  const alone = doesIn(day.view, move.pen).length ? "" : ".alone";
  return t(`act.move.line${alone}`, { name: day.named(move.doe), pen: pen_said(move), on: day.spoken(on) });
}

/** As the day goes, whatever order they were planned in. */
function by_meal(lines: ActLine[]): ActLine[] {
  const place = ({ slot }: ActLine) => SLOTS.findIndex((each) => each === slot);
  return lines.toSorted((a, b) => place(a) - place(b));
}

/** Lines that are told together. */
function alike(lines: ActLine[], by: (line: ActLine) => unknown[]): ActLine[][] {
  const groups = new Map<string, ActLine[]>();
  for (const line of lines) {
    const key = JSON.stringify(by(line));
    groups.set(key, [...(groups.get(key) ?? []), line]);
  }
  return [...groups.values()];
}

function said(lines: ActLine[], act: Act): LineSaid {
  const { subject, feed, from_g, steps } = lines[0]!;
  const [[on, first_g], ...then] = steps as [[string, number], ...[string, number][]];
  const first = t(`act.line.${how(from_g, first_g)}`, {
    meals: and(lines.map(({ slot }) => t(`slot.${slot}`))), on: day.mealDay(on), g: handed(feed, first_g),
    feed: feedOf(feed), was: handed(feed, from_g),
  });
  // what a hand gives alike is no step
  const steps_on = then.filter(([, g], i) => handed(feed, g) !== handed(feed, i ? then[i - 1]![1] : first_g));
  const several = steps_on.length > 1;
  const later = steps_on.map(([on, g]) => {
    const key = several ? (g ? "act.line.step" : "act.line.step.none") : g ? "act.line.then" : "act.line.ends";
    return t(key, { on: day.mealDay(on), g: handed(feed, g) });
  });
  const name = subject === act.moves?.pen ? pen_said(act.moves) : day.named(subject);
  const whose = subject === act.subject ? "" : t("act.line.whose", { name });
  const text = several ? first : [first, ...later].join(t("act.line.join"));
  return { text: `${whose}${text}${t("stop")}`, steps: several ? later : [] };
}

/** What each place gets as long as nothing is changed. */
export function now_said({ lines }: Act): string {
  // a pen she does not stand in yet is not what stands
  const held = lines.filter(({ moves }) => !moves);
  return alike(by_meal(held), ({ feed, from_g }) => [feed, from_g]).map((same) => {
    const { feed, from_g } = same[0]!;
    const meals = and([...new Set(same.map(({ slot }) => t(`slot.${slot}`)))]);
    return t(from_g ? "act.now" : "act.now.none", { meals, g: handed(feed, from_g), feed: feedOf(feed) });
  }).join("; ");
}

function how(from_g: number, g: number): "none" | "new" | "up" | "down" | "same" {
  if (g === from_g) return "same";
  return g === 0 ? "none" : from_g === 0 ? "new" : g > from_g ? "up" : "down";
}

export function and(words: string[]): string {
  const lower = (word: string) => word.charAt(0).toLowerCase() + word.slice(1);
  return in_a_row(words.map((word, i) => (i ? lower(word) : word)));
}

/** Its name; where her grain comes down first, that too. */
export function title(act: Act): string {
  const grain = act.lines.some((line) => is_grain(infoOf(line.feed)) && last_g(line) < line.from_g);
  const key = `act.${act.code}`;
  return t(grain && has(`${key}.grain`) ? `${key}.grain` : key);
}

/** Whether it raises grain, which goes by her gut. */
export function raises_grain({ code, lines }: Act): boolean {
  return code !== "hold_split" && lines.some((line) => is_grain(infoOf(line.feed)) && last_g(line) > line.from_g);
}

const last_g = ({ steps }: ActLine): number => steps.at(-1)![1];

/** What it brings: her, or each of those a plan for the feeder is for. */
export function brings_said({ code, brings, each, subject }: Act): string[] {
  if (has(`act.brings.${code}`)) return [t(`act.brings.${code}`)];
  if (!each) return [share_said("act.brings", brings, subject)];
  return each.map(({ doe, brings }) => share_said("act.brings.doe", brings, doe));
}

/** Of an act in her plan: what it brings where its figures are not what it is for. */
export const promise_said = (act: string, brings: Brings, doe: string): string =>
  has(`act.brings.${act}`) ? t(`act.brings.${act}`) : share_said("act.brings", brings, doe);

export function share_said(key: string, { of, from_pm, to_pm, by_on }: Brings, doe: string): string {
  return t(key, {
    name: day.named(doe), from: percent(from_pm), to: percent(to_pm), nutrient: t(`act.of.${of}`),
    on: day.spoken(by_on),
  });
}

/** Her need climbs beyond what she can eat: what it brings stays far from the whole of it. */
export function late({ brings: { of, to_pm }, each, subject }: Act): boolean {
  const gest = Math.max(...(each?.map(({ doe }) => doe) ?? [subject]).map((id) => day.judged.doe(id)?.gest ?? -1));
  return of === "me" && gest >= ruleOf("late_day") && to_pm < 1000 - ruleOf("level_pm");
}

/** The day to look at it again; a doe that kids sooner wants another plan from then on. */
export function ends_said({ ends_on, each, subject }: Act): string {
  const dues = (each?.map(({ doe }) => doe) ?? [subject]).map((id) => day.judged.doe(id)?.due?.early ?? "");
  const kids = dues.some((early) => early && early <= ends_on);
  return kids ? t("act.ends.kids") : t("act.ends", { on: day.spoken(ends_on) });
}

/** Ketones are read near kidding and in milk; what is short or over in another way says nothing of her score. */
const NEAR = ["late", "fresh", "milk"];

/** Nothing on the farm does it: what would, and how far off she stays until then. */
export function none_said(acts: Acts, state: unknown): string[] {
  const { none } = acts;
  if (!none) return [];
  const { feed, g } = none;
  const first = t(feed ? "act.none.feed" : "act.none", { g: day.amount(g), feed: feed ? feedOf(feed) : "" });
  return [first, ...off_said(acts, none, state)];
}

function off_said({ for: code, of }: Acts, { pm, days }: Lacking, state: unknown): string[] {
  const over = code.includes("over") || code === "condition_fat";
  const args = { pm: percent(pm), days, of: AHEAD_D, nutrient: of ? t(`act.of.${of}`) : "" };
  if (!days) return [];
  if (of !== "me") return [t(over ? "act.none.over.other" : "act.none.short.other", args)];
  if (over) return [t("act.none.over", args)];
  return [t(NEAR.includes(String(state)) ? "act.none.short" : "act.none.short.far", args)];
}

/** Short so near kidding, or fresh: feed takes its days, and ketones do not wait for it. */
export function ketones_said({ for: code }: Acts, { args, in_pen }: Pick<Prompt, "args" | "in_pen">): string {
  if (code !== "energy_short" || !["late", "fresh"].includes(String(args["state"]))) return "";
  return t(in_pen && args["does"] ? "act.ketones.pen" : "act.ketones");
}

const OF_LIMITS = /^(grain|step|steps|forage|ca_p|net)_/;

/** Her plan as it is answers it. Late a thin doe is not left to herself for two weeks. */
export function by_plan_said({ for: code, by_plan, by_need }: Acts, state: unknown): string {
  const late = code === "condition_thin_late" || code === "condition_ahead_low" || state === "late" ? ".late" : "";
  if (code.startsWith("condition")) return t(`act.by_plan.score${late}`);
  // a limit is kept or it is not: waiting is no answer to it
  if (OF_LIMITS.test(code)) return t("act.by_plan.limit", { on: day.spoken(by_plan) });
  const way = code.includes("over") ? ".over" : "";
  return t(`act.by_plan${way}${by_need ? ".need" : ""}`, { on: day.spoken(by_plan) });
}
