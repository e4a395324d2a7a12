import { colostrum_ml_kg, type Kid } from "../../core/outlook/kidding/newborn.ts";
import type { Kidding } from "../../core/outlook/kidding/kidding.ts";
import { KID_EG_G } from "../../core/tables/numbers.ts";
import { day } from "../model/day.svelte.ts";
import { heavy, warmth } from "../words/format.ts";
import { decimal, t } from "../words/text.ts";

const ML_OZ = 29.5735;

/** How a kid was when it was last looked at, and when that was. */
export function lastOf({ looks, state }: Kid): string {
  const last = looks.at(-1);
  if (!last) return t("kids.unseen");
  const read = looks.findLast(({ rectal_c_x10 }) => rectal_c_x10)?.rectal_c_x10;
  const at = day.when(last.happened);
  return t(`kids.state.${state || "open"}`, { at, read: read ? `, ${warmth(read, day.units)}` : "" });
}

/** The first feed in words; "" wherever no amount of milk may be shown. */
export function feedOf(kid: Kid, kidding: Kidding, now_ms: number): string {
  const ml_kg = colostrum_ml_kg(kid, kidding, now_ms);
  if (!ml_kg) return "";
  const lb = day.units === "lb";
  const each = KID_EG_G[lb ? "lb" : "metric"].map((g) => {
    const ml = (ml_kg * g) / 1000;
    return t("kids.feed.eg", { kg: heavy(g, day.units), ml: lb ? `${decimal(ml / ML_OZ, 0)} fl oz` : `${ml} ml` });
  });
  return t("kids.feed", { each: each.join(", ") });
}
