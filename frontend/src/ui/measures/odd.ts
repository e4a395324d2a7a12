import { odd_grams } from "../../core/barn/odd_grams.ts";
import { doesIn, shortly } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";
import { infoOf } from "../sentences/amounts.ts";

/** An amount that can be given and hardly is meant: asked about before it is written, never refused. */
export interface Odd {
  place: number;
  text: string;
  g: number;
  /** Ounces taken for pounds; 0 where nothing else suggests itself. */
  likely_g: number;
}

const OUNCES = 16;
export interface Given {
  /** The doe, or the pen that shares it. */
  subject: string;
  feed: string;
  g: number | null;
}

export function firstOdd(rows: Given[], slot: string, allowed: number[] = []): Odd | null {
  for (const [place, row] of rows.entries()) {
    const odd = allowed.includes(row.g ?? 0) ? null : oddOf(row, slot);
    if (odd) return { place, ...odd };
  }
  return null;
}

function oddOf({ subject, feed, g }: Given, slot: string): Omit<Odd, "place"> | null {
  const doe = day.view.does[subject];
  const eaters = doe ? [doe] : doesIn(day.view, subject);
  if (!g || eaters.length === 0) return null;
  const size = eaters.every(isMini) ? "mini" : "standard";
  const info = infoOf(feed);
  const odd = odd_grams(info.class, size, Math.round(g / eaters.length), slot);
  if (!odd) return null;
  const likely_g = odd === "pounds_for_ounces" && day.units === "lb" ? Math.round(g / OUNCES) : 0;
  const whom = doe ? t(`odd.${size}`) : t("odd.pen", { n: eaters.length });
  const text = t(likely_g ? "odd.ounces" : "odd.much", {
    g: day.amount(g), feed: shortly(info.name), whom, likely: day.amount(likely_g),
  });
  return { text, g, likely_g };
}

const isMini = ({ f }: Doe) => f["size"] === "mini";
