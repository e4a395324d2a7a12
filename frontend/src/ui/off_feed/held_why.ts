import type { Doe } from "../model/shapes.ts";
import { day } from "../model/day.svelte.ts";
import { t } from "../words/text.ts";

/** What her grain waits for, where the entry behind it says so. */
export function heldWhy({ freeze, checkups, dam_looks }: Doe): string {
  if (!freeze?.of) return "";
  const meal = day.view.intakes.find(({ ev }) => ev === freeze.of);
  if (meal) return t(`held.why.${meal.how === "refused" || meal.how === "left_some" ? "left" : "slow"}`);
  if (dam_looks.some(({ ev }) => ev === freeze.of)) return t("held.why.left");
  const row = checkups.find((one) => one[6] === freeze.of);
  if (!row) return "";
  return t(row[7].dung === "loose" ? "held.why.dung" : "held.why.fever");
}
