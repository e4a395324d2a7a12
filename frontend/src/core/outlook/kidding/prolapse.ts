import { shift, type Context } from "../ground/context.ts";
import { is_buck } from "../ground/branches.ts";
import { mentions } from "./labour.ts";
import type { Said } from "../ground/shapes.ts";
import { SIGNS_HOLD_D } from "../../tables/numbers.ts";

/** A bulge behind, seen today or yesterday: the vet's, before kidding and after it. */
export function prolapse_word(ctx: Context, id: string): Said | null {
  const doe = ctx.doe(id);
  const from = shift(ctx.day, -SIGNS_HOLD_D);
  const rows = doe.signs.filter(([, , , , , on]) => on >= from && on <= ctx.day);
  const last = rows.findLast(mentions("prolapse"));
  if (is_buck(doe) || !last?.[1].includes("prolapse")) return null;
  return { code: "prolapse_vet", args: { at_ms: last[0], why: doe.bred ? "before" : "after", rests: ["prolapse"] } };
}
