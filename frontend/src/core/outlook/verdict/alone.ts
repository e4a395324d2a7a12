import { div } from "../../base/ints.ts";
import { floor_on } from "../balance/reach.ts";
import { CONTENT } from "../balance/terms.ts";
import { appetite_on, need_on } from "../feeding/needs.ts";
import { standing } from "../ground/branches.ts";
import { NUTRIENTS, type Context } from "../ground/context.ts";
import type { BookFeed } from "../ground/herd_figures.ts";
import type { Nutrient } from "../ground/shapes.ts";

/**
 * What a doe would be short of if she ate nothing but this feed, to her appetite, by the lines her verdicts go by; null
 * where her numbers or its energy are not known. What it does not say of other nutrients is left out.
 */
export function lacks_alone(ctx: Context, id: string, feed: BookFeed): Nutrient[] | null {
  if (feed.me_kj_kg === null || standing(ctx, id) !== "ok") return null;
  const dm_g = appetite_on(ctx, id, ctx.day);
  const need = need_on(ctx, id, ctx.day, dm_g);
  if (!need || !dm_g) return null;
  const least = (key: Nutrient) => div(need[key] * (1000 - slack(ctx, key)), 1000);
  const late = floor_on(ctx, id, ctx.day);
  return NUTRIENTS.filter((key) => {
    const content = feed[CONTENT[key]];
    return content !== null && div(content * dm_g, 1000) < (key === "me" && late ? late : least(key));
  });
}

function slack(ctx: Context, key: Nutrient): number {
  return ctx.rule(key === "me" ? "level_pm" : key === "cp" ? "protein_pm" : "calcium_pm");
}
