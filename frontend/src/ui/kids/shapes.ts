import type { Kidding } from "../../core/outlook/kidding/kidding.ts";
import { written_n, type Line } from "../../core/outlook/kidding/litter.ts";
import type { Kid } from "../../core/outlook/kidding/newborn.ts";
import type { Which } from "../emergency/labour.ts";
import type { Doe } from "../model/shapes.ts";

/** One kid of a kidding: what its record says, and what was seen of it, as far as there is either. */
export interface OneKid {
  doe: Doe;
  kidding: Kidding;
  which: Which;
  row: Line | undefined;
  kid: Kid | undefined;
}

/** Those with records, dead ones among them, and those without, by the numbers they are called by. */
export function each_kid(litter: Line[], kids: Kid[]): Omit<OneKid, "doe" | "kidding">[] {
  const lines = litter.map((row) => ({
    which: { n: row.shown, id: row.id, written: written_n(row) }, row, kid: kids.find(({ id }) => id === row.id),
  }));
  const others = kids.filter(({ id }) => !id).map((kid) => ({ which: kid, row: undefined, kid }));
  return [...lines, ...others].sort((a, b) => a.which.n - b.which.n);
}
