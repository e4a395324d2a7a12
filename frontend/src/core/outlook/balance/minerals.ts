import { days_between, type Context } from "../ground/context.ts";
import type { Doubled, Said } from "../ground/shapes.ts";
import { DOUBLED_SAID_D } from "../../tables/numbers.ts";

/**
 * Selenium or copper given twice within the time that one gift lasts: nobody gives more before the vet was asked.
 */
const APART = [["selenium", "selenium_apart_d"], ["copper", "copper_apart_d"]] as const;

/** Selenium first. */
export function doubled(ctx: Context, id: string): Doubled | null {
  for (const [mineral, rule] of APART) {
    const within_d = ctx.rule_or_ours(rule);
    const given = ctx.doe(id).treatments
      .filter(({ on, carries }) => carries.includes(mineral) && on <= ctx.day && days_between(on, ctx.day) <= within_d)
      .map(({ ev, on, product, author }) => ({ ev, on, product, author }));
    if (given.length > 1) return { mineral, within_d, given };
  }
  return null;
}

/** Said for a while after the last gift; her page shows it for as long as it counts. */
export function mineral_word(ctx: Context, found: Doubled | null): Said | null {
  if (found === null) return null;
  const { mineral, given } = found;
  const on = given.reduce((last, one) => (one.on > last ? one.on : last), "");
  return days_between(on, ctx.day) <= DOUBLED_SAID_D
    ? { code: "mineral_doubled", args: { mineral, on, n: given.length } }
    : null;
}
