import { window } from "../balance/balance.ts";
import type { Context } from "../ground/context.ts";
import { energy_word } from "./energy_word.ts";
import { rules_read } from "../ground/rules_read.ts";
import type { Nutrient } from "../ground/shapes.ts";
import { line_for, lines_for, own_calcium } from "./verdicts.ts";
import { WEEK_D } from "../../tables/numbers.ts";

/** The rules her verdict on a nutrient hangs on, once need and supply of her days are known. */
export function judged_by(ctx: Context, id: string, key: Nutrient): string[] {
  const judge = (heard: Context) => {
    const line = line_for(heard, id, key);
    if (key === "me") energy_word(heard, id, line);
    if (key === "ca") own_calcium(heard, id, window(heard, id, WEEK_D));
  };
  return rules_read(ctx, judge, (heard) => lines_for(heard, id));
}
