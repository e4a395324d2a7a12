import { is_buck } from "../ground/branches.ts";
import type { Context } from "../ground/context.ts";
import { is_too_early, lately, mentions } from "./labour.ts";
import type { Said } from "../ground/shapes.ts";
import { EARLY_SIGNS } from "../../tables/off_feed.ts";

/** Signs of kidding more than ten days before her time may be a loss on its way. Nearer to it they are the watch's. */
export function kidding_early_word(ctx: Context, id: string): Said | null {
  const doe = ctx.doe(id);
  if (is_buck(doe) || !doe.bred || !is_too_early(ctx, id)) return null;
  const rows = lately(ctx, doe);
  const signs = EARLY_SIGNS.filter((sign) => rows.findLast(mentions(sign))?.[1].includes(sign));
  return signs.length ? { code: "kidding_early", args: { signs, at_ms: rows.at(-1)![0], rests: ["too_early"] } } : null;
}
