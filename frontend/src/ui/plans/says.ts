import type { Outlook } from "../../core/outlook/ground/documents.ts";
import type { DryPlan, RisePlan } from "../../core/outlook/plans/shapes.ts";
import { DRY_LEAST_D, DRY_MILK_MOST_G } from "../../core/tables/numbers.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import type { Doe } from "../model/shapes.ts";
import { sentence } from "../ration/asking.ts";
import { ruleOf } from "../sentences/amounts.ts";
import { foretold } from "../words/format.ts";
import { t } from "../words/text.ts";

/** What the pages of her stretches say, beside the steps themselves. */

export type Rising = "close_up" | "fresh";

const LOSS_X100 = 25;
const about = (g: number, round = 10) => day.amount(Math.round(g / round) * round);

export function riseArgs(plan: RisePlan, doe: Doe, { limits, due }: Outlook) {
  return {
    name: nameOf(doe), from: about(plan.from_g), to: about(plan.to_g), aim: about(plan.aim_g),
    n: plan.steps, fit: plan.fit, on: plan.first_on ? day.spoken(plan.first_on) : "", milk: about(plan.milk_g, 100),
    step: day.amount(limits.step_g), days: limits.step_days, per: ruleOf("milk_per_grain_x10") / 10,
    mid: due ? day.spoken(due.mid) : "", early: due ? day.spoken(due.early) : "",
    kg: about(plan.loss_g, 100), points: foretold(plan.loss_x100),
  };
}

/** What she is likely to lay off all the same, where that is enough to be said. */
export function lossSaid(plan: RisePlan, doe: Doe, outlook: Outlook): string {
  if (plan.code !== "plan_close_up" || plan.loss_x100 < LOSS_X100) return "";
  const many = (doe.check?.kids ?? 0) > 1;
  return t(many ? "stretch.loss.many" : "stretch.loss", riseArgs(plan, doe, outlook));
}

/** Why the steps end where they do. */
export const stopsSaid = (plan: RisePlan | DryPlan): string[] => plan.stops.map((stop) => sentence(stop, plan.grain));

/** The whole of a page of steps up, in its order. */
export function riseSaid(plan: RisePlan, of: Rising, doe: Doe, outlook: Outlook): string[] {
  const args = riseArgs(plan, doe, outlook);
  if (plan.none) return [t(`stretch.none.${plan.none}.${of}`, args), lossSaid(plan, doe, outlook)];
  const late = plan.short === "days" ? [t("stretch.late", args), t("stretch.late.do", args)] : [];
  const short = plan.short === "meals" || plan.short === "need" ? [t(`stretch.short.${plan.short}`, args)] : [];
  const stops = plan.stops.length ? [t(plan.lines.length ? "stretch.stops" : "stretch.stops.none")] : [];
  return [
    ...(plan.lines.length ? [t(`stretch.${of}.says`, args)] : []), t(`stretch.${of}.why`, args), ...late, ...short,
    ...stops, ...stopsSaid(plan), lossSaid(plan, doe, outlook),
  ];
}

export function drySaid(plan: DryPlan, doe: Doe, early: string): string[] {
  const last = doe.dried_on
    ? t("dry.dried", { on: day.spoken(doe.dried_on) })
    : `${t("dry.last", { name: nameOf(doe), on: day.spoken(plan.last_on) })} ${t(`dry.by.${plan.by}`)}`;
  const few = plan.dry_d < DRY_LEAST_D && !doe.dried_on ? [t("dry.short", { n: Math.max(0, plan.dry_d) })] : [];
  const much = { milk: day.amount(plan.milk_g), most: day.amount(DRY_MILK_MOST_G) };
  return [
    last, t("dry.days", { n: plan.dry_d, on: day.spoken(early) }), ...few,
    ...(plan.much_milk && !doe.dried_on ? [t("dry.much", much)] : []),
    t(plan.after ? "dry.order.late" : "dry.order"), ...stopsSaid(plan), ...(plan.shared ? [t("dry.shared", {
      pen: nameOf(day.view.pens[plan.shared]),
    })] : []),
  ];
}
