import { days_between, type Context } from "./context.ts";
import { is_forage, is_grain } from "./feed_classes.ts";
import { last_score } from "./needs.ts";
import { case_of, clock_ms, is_down, last_of, since_ms, vet_ms, type Case } from "./off_feed_case.ts";
import { CLOSE, stage_of } from "./off_feed_stage.ts";
import type { OffFeed } from "./shapes.ts";
import { RISK_KIDDINGS, RISK_KIDS, RISK_OLD_D } from "../tables/numbers.ts";
import { OFF_FEED, OFF_FEED_PROMPT, URGENCIES, type Stage } from "../tables/prompts.ts";

/**
 * A left meal, a refusal, a slow morning or a doe that is not up: how urgent by her stage, and when to look again. It
 * never waits for sums, scores or a plan. The grid of stages and hours is judgement: common practice, no source.
 */
const [WATCH, NOW, VET_TODAY, VET_NOW] = [0, 1, 2, 3];
const HOUR_MS = 3_600_000;

/** The case still open for her, or null. */
export function off_feed_word(ctx: Context, id: string): OffFeed | null {
  const found = case_of(ctx, id);
  if (found === null) return null;
  const [stage, last, down, called] = [stage_of(ctx, id), last_of(found), is_down(found), vet_ms(found)];
  const level = level_of(ctx, id, found, stage, down);
  const { on, slot, left_pm, ev } = last;
  const recheck_ms = clock_ms(found) + recheck_h(ctx, stage, called ? WATCH : level) * HOUR_MS;
  return {
    code: OFF_FEED_PROMPT[called ? "now" : URGENCIES[level]!],
    args: {
      how: down ? "not_up" : last.how, on, slot, left_pm, ev, stage, meals: found.meals.length,
      what: what(ctx, found), down, urgency: called ? "called" : URGENCIES[level]!, since_ms: since_ms(found),
      vet_ms: called, recheck_ms,
    },
    looked: found.looks.at(-1) ?? null,
  };
}

function level_of(ctx: Context, id: string, found: Case, stage: Stage, down: boolean): number {
  const again = found.meals.length > 1;
  const refused = last_of(found).how === "refused";
  let level = URGENCIES.indexOf(OFF_FEED[stage][down ? 2 : refused ? 1 : 0]);
  const before = stage === "last_weeks" || stage === "labour";
  if (refused && ((before && at_risk(ctx, id)) || (CLOSE.has(stage) && again))) level = VET_NOW!;
  if (again) level = Math.max(level, NOW);
  const results = found.looks.map(({ result }) => result);
  level = Math.max(level, seen_on(ctx, id, found));
  level += results.filter((result) => result === "same").length;
  if (results.includes("worse")) level = Math.max(level + 1, VET_TODAY);
  return Math.min(level, VET_NOW);
}

/** A tight left side or a cold udder cannot wait. Nor can no cud, or no dung; with both the gut stands still. */
function seen_on(ctx: Context, id: string, found: Case): number {
  const seen = ctx.doe(id).checkups.filter(([, happened]) => happened >= since_ms(found)).map((row) => row[7]);
  const last = (key: "belly" | "udder" | "cud" | "dung") => seen.findLast((one) => one[key])?.[key];
  if (last("belly") === "tight" || last("udder") === "cold") return VET_NOW;
  return [WATCH, NOW, VET_TODAY][[last("cud"), last("dung")].filter((one) => one === "none").length]!;
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

/** What she left of the last meal, where it was said of a feed: grain goes first, hay next. */
function what(ctx: Context, found: Case): "" | "grain" | "hay" | "all" {
  let [grain, hay] = [false, false];
  for (const one of found.meals.at(-1)!) {
    const feed = one.feed ? ctx.feed(one.feed) : null;
    const all = !one.feed && one.how === "refused";
    grain ||= all || is_grain(feed);
    hay ||= all || is_forage(feed);
  }
  return grain && hay ? "all" : grain ? "grain" : hay ? "hay" : "";
}

/** By her stage, and sooner where the vet is to come: the shorter of the two. */
function recheck_h(ctx: Context, stage: Stage, level: number): number {
  const close = ctx.rule_or_ours("recheck_h_close");
  const by_stage = CLOSE.has(stage) ? close : ctx.rule_or_ours(stage === "late" ? "recheck_h_late" : "recheck_h_early");
  const soon = level >= VET_TODAY ? Math.min(by_stage, close) : by_stage;
  return level >= VET_NOW ? Math.min(soon, ctx.rule_or_ours("recheck_h_vet")) : soon;
}
