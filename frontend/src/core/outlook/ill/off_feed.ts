import { HOUR_MS } from "../../base/days.ts";
import { days_between, type Context } from "../ground/context.ts";
import { is_forage, is_grain } from "../ground/feed_classes.ts";
import { last_score } from "../feeding/needs.ts";
import { buck_level, last_passed, type Level } from "./off_feed_buck.ts";
import { case_of, clock_ms, is_down, last_of, since_ms, vet_ms, type Case } from "./off_feed_case.ts";
import { CLOSE, stage_of } from "./off_feed_stage.ts";
import type { OffFeed } from "../ground/shapes.ts";
import { MOST_LEFT_PM, RISK_KIDDINGS, RISK_KIDS, RISK_OLD_D } from "../../tables/numbers.ts";
import { OFF_FEED, OFF_FEED_PROMPT, TAKE, URGENCIES, type Rest, type Stage } from "../../tables/off_feed.ts";

/**
 * A left meal, a refusal, a slow morning or a doe that is not up: how urgent by her stage, and when to look again. It
 * never waits for sums, scores or a plan. The grid of stages and hours is judgement: common practice, no source.
 */
const [WATCH, NOW, VET_TODAY, VET_NOW] = [0, 1, 2, 3] as const;
const LEFT = ["left_some", "refused"];

/** The case still open for her, or null. */
export function off_feed_word(ctx: Context, id: string): OffFeed | null {
  const found = case_of(ctx, id);
  if (found === null) return null;
  const [stage, last, down, called] = [stage_of(ctx, id), last_of(found), is_down(found), vet_ms(found)];
  const judged = stage === "buck" ? buck_level(found, down) : level_of(ctx, id, found, stage, down);
  const { level, rests, vet_at_ms } = judged;
  const { on, slot, left_pm, ev } = last;
  const usual_ms = clock_ms(found) + recheck_h(ctx, stage, called ? WATCH : level) * HOUR_MS;
  const recheck_ms = (!called && judged.recheck_ms) || usual_ms;
  return {
    code: OFF_FEED_PROMPT[called ? "now" : URGENCIES[level]!],
    args: {
      how: down ? "not_up" : last.how, on, slot, left_pm, ev, stage, meals: found.meals.length,
      what: what(ctx, found), down, urgency: called ? "called" : URGENCIES[level]!, since_ms: since_ms(found),
      vet_ms: called, recheck_ms, vet_at_ms: called ? 0 : vet_at_ms, passes: last_passed(found)?.passes ?? "",
      take: take(ctx, id, found, stage), rests,
    },
    looked: found.looks.at(-1) ?? null,
  };
}

type Ruled = [rest: Rest, level: number];
const where = (holds: boolean, rest: Rest, level: number): Ruled[] => (holds ? [[rest, level]] : []);

/** The gravest of what was seen, and the rules it rests on, the one that decides first. */
function level_of(ctx: Context, id: string, found: Case, stage: Stage, down: boolean): Level {
  const worst = ruled(ctx, id, found, stage, down).reduce((one, other) => (other[1] > one[1] ? other : one));
  const results = found.looks.map(({ result }) => result);
  let level = worst[1] + results.filter((result) => result === "same").length;
  if (results.includes("worse")) level = Math.max(level + 1, VET_TODAY);
  const rests: Rest[] = level > worst[1] ? ["no_better", worst[0]] : [worst[0]];
  return { level: Math.min(level, VET_NOW), rests, vet_at_ms: 0 };
}

function ruled(ctx: Context, id: string, found: Case, stage: Stage, down: boolean): Ruled[] {
  const close = CLOSE.has(stage);
  const refused = last_of(found).how === "refused";
  const left = what(ctx, found);
  const most = most_left(found, left);
  const by_stage = URGENCIES.indexOf(OFF_FEED[stage][down ? 2 : refused ? 1 : 0]);
  return [
    [down ? "down" : base(found, close, left), by_stage],
    ...where(refused && stage !== "fresh" && close && at_risk(ctx, id), "much_against", VET_NOW),
    ...where(close && left_again(found), "second_meal", VET_NOW),
    ...where(close && most && left !== "grain", "most_left", VET_NOW),
    ...where(close && most && left === "grain", "grain_first", VET_TODAY),
    ...where(found.meals.length > 1, "second_meal", NOW),
    ...seen_on(ctx, id, found, close),
  ];
}

function base(found: Case, close: boolean, left: string): Rest {
  if (!close) return "other_meal";
  return last_of(found).how !== "refused" ? "left_meal" : left === "grain" ? "grain_first" : "refused_meal";
}

/** Coming slowly twice is no second left meal. */
function left_again({ meals }: Case): boolean {
  return meals.filter((meal) => meal.some(({ how }) => LEFT.includes(how))).length > 1;
}

/** A meal refused counts as most of one only where somebody said that it was grain and hay. */
function most_left(found: Case, left: string): boolean {
  const { how, left_pm } = last_of(found);
  return how === "refused" ? left === "all" && told_left(found) !== "" : how === "left_some" && left_pm >= MOST_LEFT_PM;
}

/** A tight left side or a cold udder cannot wait. Nor can no cud, or no dung; with both the gut stands still. */
function seen_on(ctx: Context, id: string, found: Case, close: boolean): Ruled[] {
  const seen = ctx.doe(id).checkups.filter(([, happened]) => happened >= since_ms(found)).map((row) => row[7]);
  const last = (key: "belly" | "udder" | "cud" | "dung") => seen.findLast((one) => one[key])?.[key];
  const still = [last("cud"), last("dung")].filter((one) => one === "none").length;
  return [
    ...where(last("belly") === "tight", "gut_still", VET_NOW),
    ...where(last("udder") === "cold", "cold_udder", VET_NOW),
    ...where(close && last("cud") === "none", "no_cud", VET_NOW),
    ...where(still > 0, "gut_still", still > 1 ? VET_TODAY : NOW),
  ];
}

/** Readings nobody has taken since it began; ketones by blood or by strip. */
function take(ctx: Context, id: string, found: Case, stage: Stage): string {
  const rows = ctx.doe(id).checkups.filter(([, happened]) => happened >= since_ms(found));
  const has = { temp: rows.some((row) => row[2] > 0), ketones: rows.some((row) => row[3] > 0 || row[4] !== "") };
  return TAKE[stage].filter((reading) => !has[reading as keyof typeof has]).join("_");
}

/** Three kids or more, fat, old, or sick like this before: by what was recorded of her alone. */
function at_risk(ctx: Context, id: string): boolean {
  const doe = ctx.doe(id);
  const score = last_score(ctx, id);
  const held = score !== null && score.age_d <= ctx.rule_or_ours("score_holds_d");
  const fat = held && score.x100 >= ctx.rule_or_ours("score_fat_x100");
  const { born_on: born, kiddings_before: before, had_toxemia, had_milk_fever } = doe.f;
  const old = typeof born === "string" && born !== "" && days_between(born, ctx.day) >= RISK_OLD_D;
  const many = doe.kiddings + (typeof before === "number" ? before : 0) >= RISK_KIDDINGS;
  const kids = doe.bred && doe.check ? doe.check.kids : 0;
  return kids >= RISK_KIDS || fat || old || many || had_toxemia === true || had_milk_fever === true;
}

/** What she left of the last meal: as somebody answered, else by the feed it was said of. */
function what(ctx: Context, found: Case): "" | "grain" | "hay" | "all" {
  const told = told_left(found);
  if (told) return told;
  let [grain, hay] = [false, false];
  for (const one of found.meals.at(-1)!) {
    const feed = one.feed ? ctx.feed(one.feed) : null;
    const all = !one.feed && one.how === "refused";
    grain ||= all || is_grain(feed);
    hay ||= all || is_forage(feed);
  }
  return grain && hay ? "all" : grain ? "grain" : hay ? "hay" : "";
}

function told_left({ meals, looks }: Case): "" | "grain" | "hay" | "all" {
  const about = new Set(meals.at(-1)!.map(({ ev }) => ev));
  const told = looks.findLast(({ of, left }) => left && about.has(of))?.left;
  return told === "grain" || told === "hay" ? told : told ? "all" : "";
}

/** By her stage, and sooner where the vet is to come: the shorter of the two. */
function recheck_h(ctx: Context, stage: Stage, level: number): number {
  const close = ctx.rule_or_ours("recheck_h_close");
  const by_stage = CLOSE.has(stage) ? close : ctx.rule_or_ours(stage === "late" ? "recheck_h_late" : "recheck_h_early");
  const soon = level >= VET_TODAY ? Math.min(by_stage, close) : by_stage;
  return level >= VET_NOW ? Math.min(soon, ctx.rule_or_ours("recheck_h_vet")) : soon;
}
