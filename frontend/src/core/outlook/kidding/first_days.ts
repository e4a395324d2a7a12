import { HOUR_MS, MIN_MS } from "../../base/days.ts";
import type { Context } from "../ground/context.ts";
import { kidding_of, type Kidding } from "./kidding.ts";
import { dam_words, is_dull } from "./dam.ts";
import { does_not_swallow, kids_of, lacking, next_look_h, type Kid } from "./newborn.ts";
import { placenta_word } from "./placenta.ts";
import type { Said, Turn } from "../ground/shapes.ts";
import {
  COLOSTRUM_BY_H, COLOSTRUM_UNTIL_H, FIRST_DAYS_D, KID_COLD_AGAIN_MIN, KID_FEED_BY_H, KID_LOOKS_H,
} from "../../tables/numbers.ts";

/** What is asked about a doe that has kidded, each word with its clock: her kids, her afterbirth, herself. */
export function first_days(ctx: Context, id: string, ill: boolean): Said[] {
  const kidding = kidding_of(ctx, id);
  if (kidding === null) return [];
  const kids = kidding.days <= FIRST_DAYS_D ? kids_of(ctx.doe(id), kidding) : [];
  const poorly = ill || is_dull(ctx.doe(id), kidding);
  const words = [cold(kids), look(kids, kidding), placenta_word(ctx.doe(id), kidding, poorly)];
  return [...words.filter((said) => said !== null), ...dam_words(ctx.doe(id), kidding, ctx.day)];
}

function cold(kids: Kid[]): Said | null {
  const worst = kids.some(({ state }) => state === "cold") ? "cold" : "no_swallow";
  const which = kids.filter(({ state }) => state === worst).map(({ n }) => n);
  const looked = kids.filter(({ n }) => which.includes(n)).map(({ looks }) => looks.at(-1)!.happened);
  const recheck_ms = Math.min(...looked) + KID_COLD_AGAIN_MIN * MIN_MS;
  const both = worst === "cold" && kids.some((kid) => kid.state === "cold" && does_not_swallow(kid));
  const why = both ? "cold_no_swallow" : worst;
  return which.length ? { code: "kid_cold", args: { kids: which, why, recheck_ms, rests: ["kid_cold"] } } : null;
}

/** The next look, or, where that comes first, the hour by which every kid has to have drunk. */
function look(kids: Kid[], kidding: Kidding): Said | null {
  const h = next_look_h(kids, kidding);
  const dry = kids.filter(({ drank }) => !drank).map(({ n }) => n);
  if (h === null && !dry.length) return null;
  const { timed, first_ms, last_ms } = kidding;
  const due_ms = h === null ? Infinity : Math.min(last_ms + h * HOUR_MS, fed_again_ms(kids));
  const by_ms = dry.length ? first_ms + COLOSTRUM_BY_H * HOUR_MS : Infinity;
  const to_drink = by_ms < due_ms;
  const rests = [...(timed ? [] : ["kid_hour_unsaid"]), ...(dry.length ? ["kid_colostrum"] : []), "kid_looks"];
  return {
    code: "kids_wait",
    args: {
      kids: to_drink || h === null ? dry : lacking(kids, kidding, h), dry, since_ms: last_ms, timed, rests,
      why: to_drink ? "first" : part(h), recheck_ms: Math.min(by_ms, due_ms),
      turns: turns_of(by_ms, due_ms, last_ms + COLOSTRUM_UNTIL_H * HOUR_MS),
    },
  };
}

/** A kid that was last fed by hand waits for whoever feeds it. */
function fed_again_ms(kids: Kid[]): number {
  const by_hand = kids.map(({ looks }) => looks.findLast(({ fed }) => fed && fed !== "none"));
  const fed = by_hand.filter((look) => look && look.fed !== "sucked").map((look) => look!.happened);
  return Math.min(...fed) + KID_FEED_BY_H * HOUR_MS;
}

/** A kid of a day that nobody saw drink is past colostrum, and is looked at all the same. */
function turns_of(by_ms: number, due_ms: number, open_ms: number): Turn[] {
  const look: Turn[] = due_ms < by_ms ? [[due_ms, "kids_look"]] : [];
  return by_ms === Infinity ? look : [...look, [by_ms, "kid_no_colostrum"], [open_ms, "kids_look"]];
}

/** What is looked for: colostrum at the first look, nothing but a well kid at the last. */
function part(h: number | null): string {
  return h === null || h === KID_LOOKS_H[0] ? "first" : h === KID_LOOKS_H.at(-1) ? "last" : "next";
}
