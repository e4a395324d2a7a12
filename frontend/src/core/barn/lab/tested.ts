import { div } from "../../base/ints.ts";
import type { BookFeed } from "../../outlook/ground/herd_figures.ts";
import { ME_J_PER_TDN } from "../../tables/lab.ts";
import { FEED_TESTED_SD_PM } from "../../tables/numbers.ts";

const FIGURES = [
  ["dm_pct_x10", "dm_pm", 1], ["cp_pct_x10", "cp_ug_g", 1000], ["ndf_pct_x10", "ndf_pm", 1],
  ["ca_pct_x100", "ca_ug_g", 100], ["p_pct_x100", "p_ug_g", 100],
] as const;

/** A feed as a report has it, before the server has it in the book. What the report leaves out stays as it was. */
export function tested(base: BookFeed, fields: Record<string, number>, tdn_by: string): BookFeed {
  const made: BookFeed = { ...base };
  for (const [field, figure, times] of FIGURES) if (fields[field] !== undefined) made[figure] = fields[field] * times;
  const tdn = fields["tdn_pct_x10"];
  if (tdn !== undefined) {
    made.me_kj_kg = Math.round((tdn * ME_J_PER_TDN) / 10_000);
    // by fibre alone it is no surer than a table
    made.me_sd_pm = tdn_by.startsWith("fibre_") ? undefined : FEED_TESTED_SD_PM;
  }
  const { cp_ug_g, cp_eq_ug_g } = base;
  // protein counts by the share that is used, which stays that of the feed it is like
  const used = (cp: number) => (cp_ug_g && cp_eq_ug_g ? div(cp * cp_eq_ug_g, cp_ug_g) : cp);
  if (made.cp_ug_g !== null) made.cp_eq_ug_g = used(made.cp_ug_g);
  return made;
}

const COMPARED = ["me_kj_kg", "cp_ug_g", "ndf_pm", "ca_ug_g"] as const;
/** Fewer figures than this say nothing of what it is like. */
const FEWEST = 2;

/** The feed of the table whose energy, protein, fibre and calcium lie nearest, each by its own size; "" for none. */
export function most_like(made: BookFeed, feeds: Record<string, BookFeed>, among: (id: string) => boolean): string {
  const rows = Object.entries(feeds).flatMap(([id, feed]) => {
    const off = among(id) ? COMPARED.flatMap((figure) => apart(made[figure], feed[figure])) : [];
    return off.length < FEWEST ? [] : [{ id, off: off.reduce((all, one) => all + one, 0) / off.length, n: off.length }];
  });
  const most = Math.max(0, ...rows.map(({ n }) => n));
  return rows.filter(({ n }) => n === most).sort((a, b) => a.off - b.off || (a.id < b.id ? -1 : 1))[0]?.id ?? "";
}

function apart(one: number | null, other: number | null): number[] {
  return one === null || other === null || !(one + other) ? [] : [Math.abs(one - other) / (one + other)];
}
