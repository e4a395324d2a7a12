import { WEEK_D } from "../../core/tables/numbers.ts";
import { sum } from "../../core/base/ints.ts";
import { eaten_on } from "../../core/outlook/balance/balance.ts";
import { branch_at, slot_for } from "../../core/outlook/ground/branches.ts";
import { doubts, type Doubt } from "../../core/outlook/balance/doubts.ts";
import { activity_pm, fcm_on, last_score, milk_on } from "../../core/outlook/feeding/needs.ts";
import {
  CONTENT, feed_parts, need_terms, term_rules, told_day, week_days, type FeedPart, type Term, type WeekDay,
} from "../../core/outlook/balance/terms.ts";
import type { Context } from "../../core/outlook/ground/context.ts";
import { in_danger } from "../../core/outlook/verdict/feeder.ts";
import { fell_below } from "../../core/outlook/verdict/held.ts";
import { judged_by } from "../../core/outlook/verdict/judged_by.ts";
import { amount, energy, heavy, nutrient, percent, score } from "../words/format.ts";
import { feedInfo } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Line, NutrientKey } from "../model/results.ts";
import type { Reference } from "../reference/reference.svelte.ts";
import { to } from "../shell/router.svelte.ts";
import { decimal, has, t, type Args } from "../words/text.ts";
import { ruleShown, type RuleShown } from "./cites.ts";

export interface Why {
  on: string;
  branch: string;
  planned: boolean;
  terms: Term[];
  need: number;
  feeds: FeedPart[];
  week: WeekDay[];
  doubts: Doubt[];
  floor_kj: number;
  /** The text that says what her word on energy goes by, where that is not need; "" where it is. */
  line: string;
  args: Args;
}

/** The number of one nutrient taken apart, from what lies on the phone; null past what was compiled. */
export function whyOf(id: string, key: NutrientKey): Why | null {
  const ctx = session.farm!.evaluation(day.today).ctx;
  const [on, planned] = told_day(ctx, id);
  const slot = slot_for(ctx, id, on);
  if (slot === null) return null;
  const dm_g = sum(Object.values(eaten_on(ctx, id, on, planned).dm));
  const terms = need_terms(ctx, id, on, key, dm_g);
  const [branch, i] = slot;
  const who = day.outlook(id)?.who;
  const milk = milk_on(ctx, id, on);
  return {
    on, branch: branch_at(ctx, id, on), planned, terms,
    need: sum(terms.map(({ value }) => value)), feeds: feed_parts(ctx, id, on, planned, key),
    week: week_days(ctx, id, key), doubts: key === "me" ? doubts(ctx, id) : [], floor_kj: branch.floor_me_kj[i]!,
    line: lineOf(ctx, id, branch.floor_me_kj[i]!),
    args: {
      mass: heavy(who?.mass_g ?? 0, day.units), kids: (who?.litter_x100 ?? 0) / 100,
      kid: heavy(who?.kid_g ?? 0, day.units),
      gest: branch.gest[i]!, milk: heavy(milk, day.units), fcm: heavy(fcm_on(ctx, id, on), day.units),
      dm: amount(dm_g, day.units), ground: percent(activity_pm(ctx, id, on)), low: score(branch.band_lo[i]!),
      days: ctx.rule("regain_days"),
      scored: last_score(ctx, id)?.age_d ?? -1,
    },
  };
}

function lineOf(ctx: Context, id: string, floor_kj: number): string {
  if (fell_below(ctx, id)) return "why.fell";
  return floor_kj ? (in_danger(ctx, id) ? "why.danger" : "why.floor") : "";
}

export const worth = (key: NutrientKey, value: number) => (key === "me" ? energy(value, day.units) : nutrient(value));

/** What a feed holds, per kilogram or as a share of dry matter. */
export function holds(key: NutrientKey, content: number | null): string {
  if (content === null) return t("unknown");
  return CONTENT[key] === "me_kj_kg"
    ? t("why.per_kg", { value: energy(content, day.units) })
    : `${decimal(content / 10_000, 2)} %`;
}

export interface Act {
  label: string;
  note: string;
  href: string;
}

/** What takes away less of the doubt, or brings less of what she gets, is not worth a walk. */
const WORTH_PM = 50;

/** What would make the answer surer: the share of the doubt each record takes away, the largest first. */
export function acts(id: string, key: NutrientKey, line: Line, why: Why): Act[] {
  const name = (feed: string) => feedInfo(day.view, day.feeds, feed).name;
  const unknown = why.feeds
    .filter(({ content }) => content === null)
    .map(({ feed }) => ({
      label: t("why.fill", { feed: name(feed) }), note: t("why.fill.why"), href: feedPlace(feed),
    }));
  const note = t("why.confirm.why", { days: line.days, of: WEEK_D });
  const few = line.days < WEEK_D ? [{ label: t("why.confirm"), note, href: to() }] : [];
  const first = line.st === "unknown";
  const narrow = key === "me" ? of_doubts(id, why.doubts) : of_table(why, name);
  return [...unknown, ...(first ? few : []), ...narrow, ...(first ? [] : few)];
}

function of_doubts(id: string, all: Doubt[]): Act[] {
  const places: Record<string, (feed: string) => string> = {
    weigh: () => to("doe", id, "weight"), scan: () => to("doe", id, "preg_check"),
    weigh_milk: () => to("doe", id, "milk"), test_feed: feedPlace,
  };
  return all
    .filter(({ act, removes_pm }) => act && removes_pm >= WORTH_PM)
    .map(({ act, feed, removes_pm }) => ({
      label: t(`why.act.${act}`, { feed: feedInfo(day.view, day.feeds, feed).name }),
      note: t("why.removes", { share: percent(removes_pm) }), href: places[act]!(feed),
    }));
}

/** A test replaces what the table says, most where it is most of her supply. */
function of_table({ feeds }: Why, name: (feed: string) => string): Act[] {
  const total = sum(feeds.map(({ value }) => value));
  const telling = feeds.filter(({ value }) => value && value * 1000 >= total * WORTH_PM);
  const untested = telling.filter(({ feed }) => day.feeds[feed]?.me_sd_pm === undefined);
  return untested
    .sort((a, b) => b.value - a.value)
    .slice(0, 2)
    .map(({ feed, value }) => ({
      label: t("why.act.test_feed", { feed: name(feed) }),
      note: t("why.brings", { share: percent((value * 1000) / total) }), href: feedPlace(feed),
    }));
}

function feedPlace(feed: string): string {
  const kind = day.view.lots[feed] ? "lots" : day.view.feeds[feed] ? "feeds" : "";
  return kind ? to("farm", kind, feed) : to("farm", "lots", "new");
}

export function doubtName({ of, feed }: Doubt): string {
  return t(`why.of.${of}`, { feed: feed ? feedInfo(day.view, day.feeds, feed).name : "" });
}

/** Rules one part of a need reads on the phone. */
export function readHere(
  id: string, key: NutrientKey, code: string, on: string, of: Reference | null | undefined,
): RuleShown[] {
  const { rules } = session.farm!.book;
  const ctx = session.farm!.evaluation(day.today).ctx;
  return term_rules(ctx, id, on, key, code).map((name) => ruleShown(name, rules[name] ?? 0, of));
}

/** The rules her verdict hangs on, as it was reached. */
export function thresholds(id: string, key: NutrientKey, of: Reference | null | undefined): RuleShown[] {
  const { rules } = session.farm!.book;
  const names = judged_by(session.farm!.evaluation(day.today).ctx, id, key);
  return names.map((name) => ruleShown(name, rules[name] ?? 0, of));
}

/** One sentence on how a term came about; none where the name says it all. */
export const how = (key: NutrientKey, code: string, args: Args) =>
  has(`why.how.${key}.${code}`)
    ? t(`why.how.${key}.${code}`, args)
    : has(`why.how.${code}`)
      ? t(`why.how.${code}`, args)
      : "";
