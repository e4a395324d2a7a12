import type { Outlook } from "../../core/outlook/ground/documents.ts";
import type { DryPlan, FeedPlan, RisePlan } from "../../core/outlook/plans/shapes.ts";
import { DRY_LEAST_D, DRY_MILK_MOST_G } from "../../core/tables/numbers.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import type { Doe } from "../model/shapes.ts";
import { sentence } from "../ration/asking.ts";
import { ruleOf } from "../sentences/amounts.ts";
import { foretold, percent } from "../words/format.ts";
import { t } from "../words/text.ts";

/** What the pages of her stretches say, beside the steps themselves. */

export type Rising = "close_up" | "fresh";

/** With several kids less is worth a word. */
const LOSS_X100 = { one: 25, many: 15 };
const about = (g: number, round = 10) => day.amount(Math.round(g / round) * round);

export function riseArgs(plan: RisePlan, doe: Doe, { limits, due }: Outlook) {
  return {
    name: nameOf(doe), from: about(plan.from_g), to: about(plan.to_g), aim: about(plan.aim_g),
    n: plan.steps, fit: plan.fit, on: plan.first_on ? day.spoken(plan.first_on) : "", milk: about(plan.milk_g, 100),
    step: day.amount(limits.step_g), days: limits.step_days, per: ruleOf("milk_per_grain_x10") / 10,
    mid: due ? day.spoken(due.mid) : "", early: due ? day.spoken(due.early) : "", late: due ? day.spoken(due.late) : "",
    kg: about(plan.loss_g, 100), points: foretold(plan.loss_x100),
  };
}

/** What she is likely to lay off all the same, where that is enough to be said. */
export function lossSaid(plan: RisePlan, doe: Doe, outlook: Outlook): string {
  const many = (doe.check?.kids ?? 0) > 1;
  if (plan.code !== "plan_close_up" || plan.loss_x100 < LOSS_X100[many ? "many" : "one"]) return "";
  return t(many ? "stretch.loss.many" : "stretch.loss", riseArgs(plan, doe, outlook));
}

/** What it would do to whoever eats beside her, and what is done about it. */
export function matesSaid({ mates, mended }: FeedPlan): string[] {
  const named = (id: string) => nameOf(day.view.does[id]);
  if (mended) return [t("stretch.mates.mended", { names: mates.map(({ doe }) => named(doe)).join(", ") })];
  return mates.map(({ doe, of, from_pm, to_pm }) =>
    t(`stretch.mates.${to_pm > from_pm ? "over" : of}`, {
      name: named(doe), from: percent(from_pm), to: percent(to_pm),
    }),
  );
}

/** Why the steps end where they do. */
export const stopsSaid = (plan: RisePlan | DryPlan): string[] => plan.stops.map((stop) => sentence(stop, plan.grain));

/** How the steps fall short of what is aimed at. */
function shortSaid(plan: RisePlan, args: ReturnType<typeof riseArgs>): string[] {
  if (plan.short === "days") return plan.fit ? [t("stretch.late", args), t("stretch.late.do", args)] : [
    t("stretch.late.none"), t("stretch.late.do", args),
  ];
  return plan.short && plan.short !== "gate" ? [t(`stretch.short.${plan.short}`, args)] : [];
}

export interface RiseSaid {
  told: string;
  why: string;
  short: string[];
  stops: string[];
  after: string[];
}

/** The words of a page of steps up. */
export function riseSaid(plan: RisePlan, of: Rising, doe: Doe, outlook: Outlook): RiseSaid {
  const args = riseArgs(plan, doe, outlook);
  const loss = lossSaid(plan, doe, outlook);
  const after = [...matesSaid(plan), ...(loss ? [loss] : [])];
  if (plan.none) return { told: t(`stretch.none.${plan.none}.${of}`, args), why: "", short: [], stops: [], after };
  const ends = plan.short === "milk";
  const told = ends ? t("stretch.fresh.now") : plan.lines.length ? t(`stretch.${of}.says`, args) : "";
  const head = plan.stops.length ? [t(plan.lines.length ? "stretch.stops" : "stretch.stops.none")] : [];
  return {
    told, why: ends ? "" : t(`stretch.${of}.why`, args), short: shortSaid(plan, args),
    stops: [...head, ...stopsSaid(plan)], after,
  };
}

export interface DrySaid {
  told: string;
  days: string;
  few: string;
  much: string;
  order: string[];
  after: string[];
}

export function drySaid(plan: DryPlan, doe: Doe, early: string): DrySaid {
  const { dried_on } = doe;
  const [pen, grain_pen] = [plan.shared, plan.shared_grain].map((id) => nameOf(day.view.pens[id]));
  const much = { milk: day.amount(plan.milk_g), most: day.amount(DRY_MILK_MOST_G) };
  return {
    told: dried_on
      ? t("dry.dried", { on: day.spoken(dried_on) })
      : t("dry.last", { name: nameOf(doe), on: day.spoken(plan.last_on) }),
    days: dried_on ? "" : `${t(`dry.by.${plan.by}`)} ${t("dry.days", { n: plan.dry_d, on: day.spoken(early) })}`,
    few: plan.dry_d < DRY_LEAST_D && !dried_on ? t("dry.short", { n: Math.max(0, plan.dry_d) }) : "",
    much: plan.much_milk && !dried_on ? t("dry.much", much) : "",
    order: [
      t(plan.after ? "dry.order.late" : "dry.order"), plan.keeps_g ? t("dry.keep", { g: about(plan.keeps_g) }) : "",
      plan.thin ? t("dry.thin") : "",
    ].filter(Boolean),
    after: [
      ...stopsSaid(plan), ...matesSaid(plan), plan.shared ? t("dry.shared", { pen: pen! }) : "",
      plan.shared_grain ? t("dry.shared_grain", { pen: grain_pen! }) : "",
    ].filter(Boolean),
  };
}
