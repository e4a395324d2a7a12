import { nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { percent } from "../words/format.ts";
import { t } from "../words/text.ts";
import type { Envelope, Intake } from "../model/shapes.ts";

/** How a meal went, for a button: a share only where one was said. */
export function didOf({ how, left_pm }: Pick<Intake, "how" | "left_pm">): string {
  return how === "left_some" && !left_pm ? t("did.left_unsaid") : t(`did.${how}`, { pm: percent(left_pm) });
}

/** What was put before a pen: the one entry of the list that is spoken of before the words for all are here. */
export function fedSaid({ data, slot, subject }: Envelope): string {
  const n = (data["lines"] as unknown[]).length;
  return t("r.fed", { slot: t(`slot.${slot}`), n, name: nameOf(day.view.pens[subject]) });
}
