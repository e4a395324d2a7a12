import { dayOf } from "../../core/base/days.ts";
import { CLOSE_UP_SEEN_D, DRY_SEEN_D, DRY_TAKEN_D, RAMP_D } from "../../core/tables/numbers.ts";
import { ruleOf } from "../sentences/amounts.ts";
import { day } from "../model/day.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { addDays } from "../words/format.ts";

/** The stretches of her year that have a page of their own: drying off, close-up, the grain after kidding. */
export type Stretch = "dry" | "close_up" | "fresh";

const ago = (on: string): number => dayOf(day.today) - dayOf(on);

/** Those that may be opened for her at all. */
export function stretchesOf(doe: Doe): Stretch[] {
  const { bred, kidded, dried_on, left_on, f } = doe;
  if (left_on || f["sex"] === "buck") return [];
  if (!bred) return kidded && !dried_on && ago(kidded.on) <= RAMP_D ? ["fresh"] : [];
  // dried off late: her hay may still come down while her steps toward kidding begin
  if (kidded && !dried_on) return ["dry"];
  return kidded && ago(dried_on) <= DRY_TAKEN_D ? ["dry", "close_up"] : ["close_up"];
}

/** Those that are near. */
export function stretches(doe: Doe): Stretch[] {
  return stretchesOf(doe).filter((of) => of === "fresh" || (of === "dry" ? dryNear(doe) : closeUpNear(doe)));
}

/** Her last milking by her own plan, else by the herd's rule from the earliest service. */
export function lastMilking({ bred, dry_plan, dried_on, f }: Doe): string {
  if (dried_on || dry_plan) return dried_on || dry_plan!.last_on;
  return addDays(bred!.from, ruleOf(f["size"] === "mini" ? "dry_off_day_mini" : "dry_off_day_standard") - 1);
}

const dryNear = (doe: Doe): boolean => -ago(lastMilking(doe)) <= DRY_SEEN_D;

function closeUpNear({ id }: Doe): boolean {
  const first = day.outlook(id)?.steps[0]?.on ?? "";
  return first !== "" && -ago(first) <= CLOSE_UP_SEEN_D;
}
