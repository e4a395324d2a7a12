import type { Act, Brings } from "../../core/outlook/acts/shapes.ts";
import type { DryPlan, FeedPlan } from "../../core/outlook/plans/shapes.ts";
import { adopt } from "../acts/adopt.ts";
import { record } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { day } from "../model/day.svelte.ts";
import { rationsOf } from "../model/herd.ts";

const NOTHING = { of: "", from_pm: 0, to_pm: 0, by_on: "" } as unknown as Brings;

/** As an act is put in: one entry a line, spoken of once, one undo for all of it. */
export function actOf({ code, doe, lines, brings }: FeedPlan): Act {
  return { code, to: "doe", subject: doe, lines, brings: brings ?? NOTHING, slow: false, ends_on: "" };
}

/** With the day of her last milking, and how it comes about, where those are others than before. */
export function putIn(plan: FeedPlan, doe: Doe, dry?: DryPlan): void {
  adopt(actOf(plan), () => {
    const { dry_plan } = doe;
    if (!dry || doe.dried_on || !session.may("dry_plan")) return;
    if (dry_plan?.last_on === dry.last_on && dry_plan.way === dry.way) return;
    record("dry_plan", doe.id, { last_on: dry.last_on, way: dry.way });
  });
}

/** Whether this stretch was put in whole since she was bred, or kidded. */
export function isIn(code: FeedPlan["code"], { id, pen, bred, kidded }: Doe): boolean {
  const since = bred?.from ?? kidded?.on ?? "";
  const marks = [id, pen].flatMap((subject) => rationsOf(day.view, subject)).flatMap(({ marks }) => marks.at(-1) ?? []);
  return marks.some((mark) => mark.act === code && mark.on >= since);
}
