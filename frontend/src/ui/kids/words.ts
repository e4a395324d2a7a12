import { is_dead } from "../../core/outlook/kidding/litter.ts";
import { colostrum_ml_kg, does_not_swallow, type Kid } from "../../core/outlook/kidding/newborn.ts";
import type { Kidding } from "../../core/outlook/kidding/kidding.ts";
import { HOUR_MS } from "../../core/base/days.ts";
import { COLOSTRUM_UNTIL_H, KID_EG_G, KID_FEED_AGAIN_H, KID_WARM_HOLDS_H } from "../../core/tables/numbers.ts";
import { day } from "../model/day.svelte.ts";
import type { RecordRow } from "../model/shapes.ts";
import { heavy, warmth } from "../words/format.ts";
import { decimal, t } from "../words/text.ts";

const ML_OZ = 29.5735;
/** A gram of milk is taken for a millilitre. */
export const milkSaid = (ml: number) => (day.units === "lb" ? `${decimal(ml / ML_OZ, 0)} fl oz` : `${ml} ml`);

/** How a kid was when it was last looked at, and when that was. */
export function lastOf(kid: Kid): string {
  const { looks, state } = kid;
  const last = looks.at(-1);
  if (!last) return t("kids.unseen");
  const read = looks.findLast(({ rectal_c_x10 }) => rectal_c_x10)?.rectal_c_x10;
  const at = day.when(last.happened);
  const how = state === "cold" && does_not_swallow(kid) ? "cold_no_swallow" : state || "open";
  return t(`kids.state.${how}`, { at, read: read ? `, ${warmth(read, day.units)}` : "" });
}

export const birthOf = (row: RecordRow | undefined) => Number(row?.f["birth_g"] ?? 0);

/** The first feed of one that was weighed; 0 wherever no amount may be shown. */
export function feedMl(kid: Kid, kidding: Kidding, now_ms: number, birth_g: number): number {
  return Math.round((colostrum_ml_kg(kid, kidding, now_ms) * birth_g) / 10_000) * 10;
}

export type Asked = "mouth" | "swallows" | "fed" | "up" | "belly";

/** What was told of it a while ago is said in its line, and is no answer to today's look. */
export function toldLately(kid: Kid | undefined, key: Asked): string {
  const last = kid?.looks.findLast((look) => look[key]);
  return last && day.now - last.happened <= KID_WARM_HOLDS_H * HOUR_MS ? last[key] : "";
}

/** Tenths of a degree, as its last look has them. */
export function readLately(kid: Kid | undefined): number {
  const last = kid?.looks.findLast(({ rectal_c_x10 }) => rectal_c_x10);
  return last && day.now - last.happened <= KID_WARM_HOLDS_H * HOUR_MS ? last.rectal_c_x10 : 0;
}

/** Whether milk is somebody's to give: to one that drank nothing yet, or was fed by hand some hours ago. */
export function isFed({ drank, looks }: Kid, { last_ms }: Kidding, now_ms: number): boolean {
  const fed = looks.findLast(({ fed }) => fed && fed !== "none");
  const again = fed && fed.fed !== "sucked" && now_ms - fed.happened >= KID_FEED_AGAIN_H * HOUR_MS;
  return (!drank || Boolean(again)) && now_ms - last_ms <= COLOSTRUM_UNTIL_H * HOUR_MS;
}

/** The first feed in words; "" wherever no amount of milk may be shown. */
export function feedOf(kid: Kid, kidding: Kidding, now_ms: number, birth_g = 0): string {
  const ml_kg = colostrum_ml_kg(kid, kidding, now_ms);
  if (!ml_kg) return "";
  const eg = birth_g ? [birth_g] : KID_EG_G[day.units === "lb" ? "lb" : "metric"];
  const each = eg.map((g) => {
    const ml = birth_g ? feedMl(kid, kidding, now_ms, g) : (ml_kg * g) / 1000;
    return t("kids.feed.eg", { kg: heavy(g, day.units), ml: milkSaid(ml) });
  });
  const first = birth_g ? "kids.feed.own" : "kids.feed";
  return t(kid.drank ? "kids.feed.again" : first, { each: each.join(", ") });
}

/** One line of it: doeling or buckling, its weight, the help it had, how it was. */
export function lineOf(row: RecordRow | undefined, kid: Kid | undefined): string {
  const f = row?.f ?? {};
  const said = (key: string) => (f[key] ? t(`kid.${key}.${String(f[key])}`) : "");
  const parts = [
    said("sex"), birthOf(row) && heavy(birthOf(row), day.units), f["help"] && f["help"] !== "none" && said("help"),
    ...(row && is_dead(row) ? [t("kids.line.dead")] : [kid && stateOf(kid), kid && fedOf(kid)]),
    f["navel"] && t("kid.navel"),
  ];
  return parts.filter(Boolean).join(", ");
}

function stateOf(kid: Kid): string {
  const { state } = kid;
  if (state === "cold" && does_not_swallow(kid)) return `${t("kids.line.cold")}, ${t("kids.line.no_swallow")}`;
  return state ? t(`kids.line.${state}`) : "";
}

function fedOf({ looks }: Kid): string {
  const last = looks.findLast(({ fed }) => fed);
  if (!last) return "";
  return t(`kids.line.${last.fed}`, { ml: last.fed_g ? ` ${milkSaid(last.fed_g)}` : "" });
}
