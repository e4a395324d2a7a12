import { div } from "../../base/ints.ts";
import { standing } from "../ground/branches.ts";
import { days_between, type Context } from "../ground/context.ts";
import { is_sign, jump_of } from "../balance/her_amount.ts";
import type { Said } from "../ground/shapes.ts";
import { dry_g, grain_g } from "../feeding/sharing.ts";
import { used_to } from "../balance/grain.ts";
import { HAY_ROUND_G, OVERLOAD_LOOK_H, OVERLOAD_SAID_D } from "../../tables/numbers.ts";

/**
 * Grain eaten in a jump, at the feeder or out of the bin. Much beyond what she is used to, or nobody knows how much:
 * the vet before any sign shows. Less: back to what she held, hay for the rest, and looks.
 */
const HOUR_MS = 3_600_000;

/** How she came to too much: when, how much beyond what she is used to (null: nobody knows), and what to go back to. */
interface Eaten {
  what: "unknown" | "much" | "fed";
  at_ms: number;
  on: string;
  beyond_g: number | null;
  back_g: number;
}

/** What cannot wait; it never asks for an outlook. */
export function overload_word(ctx: Context, id: string): Said | null {
  const found = eaten_too_much(ctx, id);
  if (found === null || called(ctx, id, found)) return null;
  const signs = signs_since(ctx, id, found);
  if (!signs && !is_overload(ctx, id, found)) return null;
  const { on, beyond_g: g, what } = found;
  return { code: "grain_overload_vet", args: { what: signs ? "signs" : what, g: g ?? 0, on, feed: "" } };
}

/** What is not for the vet, or when the vet was called: back to what she held, and when to look again. */
export function jump_back_word(ctx: Context, id: string): Said | null {
  const found = eaten_too_much(ctx, id);
  if (found === null) return null;
  const looks = looks_since(ctx, id, found);
  const hours = OVERLOAD_LOOK_H[looks];
  if (hours === undefined && found.what !== "fed") return null;
  const recheck_ms = hours === undefined ? 0 : found.at_ms + hours * HOUR_MS;
  const { on, back_g: limit } = found;
  const [g, hay_g] = [found.beyond_g ?? 0, hay_for(ctx, found.beyond_g ?? 0)];
  const what = found.beyond_g === null ? "unknown" : recheck_ms ? "look" : "fed";
  return { code: "grain_jump_back", args: { what, g, limit, hay_g, on, recheck_ms, feed: "" } };
}

/** What is said of it, to be seen beside whatever is graver. */
export function ate_grain_word(ctx: Context, id: string): Said | null {
  return overload_word(ctx, id) ?? jump_back_word(ctx, id);
}

/** More than so much a kilogram of her; out of the bin any, of a doe nobody has a weight of. */
export function is_overload(ctx: Context, id: string, { what, beyond_g }: Pick<Eaten, "what" | "beyond_g">): boolean {
  if (beyond_g === null) return true;
  const mass_g = ctx.outlooks[id]?.who?.mass_g ?? 0;
  return mass_g ? beyond_g * 1000 > ctx.rule_or_ours("overload_g_kg") * mass_g : what !== "fed";
}

function eaten_too_much(ctx: Context, id: string): Eaten | null {
  return out_of_the_bin(ctx, id) ?? at_the_feeder(ctx, id);
}

function out_of_the_bin(ctx: Context, id: string): Eaten | null {
  const last = ctx.doe(id).got_into.findLast(({ on }) => {
    const ago = days_between(on, ctx.day);
    return ago >= 0 && ago <= OVERLOAD_SAID_D;
  });
  if (!last) return null;
  const { g, feed, happened: at_ms, on } = last;
  const beyond_g = g === null ? null : amount(ctx, feed, g);
  const back_g = standing(ctx, id) === "ok" ? used_to(ctx, id) : 0;
  return { what: beyond_g === null ? "unknown" : "much", at_ms, on, beyond_g, back_g };
}

/** Dry grain; a feed nobody named, or nobody knows the dry matter of, counts as it lay there. */
function amount(ctx: Context, feed: string, g: number): number {
  return feed && dry_g(ctx, feed, g) ? grain_g(ctx, [[feed, g]]) || g : g;
}

function at_the_feeder(ctx: Context, id: string): Eaten | null {
  const jump = standing(ctx, id) === "ok" ? jump_of(ctx, id) : null;
  if (jump === null) return null;
  const { on, beyond_g, back_g } = jump;
  const meals = (ctx.feedings.get(on) ?? []).filter(
    ({ subject, lines }) => subject === id || lines.some(([to]) => to === id),
  );
  const at_ms = Math.max(0, ...meals.map(({ happened }) => happened));
  return { what: "fed", at_ms, on, beyond_g, back_g };
}

function called(ctx: Context, id: string, { at_ms }: Eaten): boolean {
  return ctx.doe(id).triages.some(({ happened, result }) => happened >= at_ms && result === "vet_called");
}

function signs_since(ctx: Context, id: string, { at_ms }: Eaten): boolean {
  return ctx.doe(id).checkups.some(([, happened, , , , , , seen]) => happened >= at_ms && is_sign(seen));
}

function looks_since(ctx: Context, id: string, { at_ms }: Eaten): number {
  const { checkups, triages } = ctx.doe(id);
  return [...checkups.map(([, happened]) => happened), ...triages.map(({ happened }) => happened)].filter(
    (happened) => happened > at_ms,
  ).length;
}

/** Hay that holds the energy of so much dry grain, as fed. */
function hay_for(ctx: Context, grain: number): number {
  const kj = div(div(grain * ctx.rule_or_ours("grain_dm_pm"), 1000) * ctx.rule_or_ours("plan_grain_kj_kg"), 1000);
  const dry = div(kj * 1000, ctx.rule_or_ours("plan_grass_kj_kg"));
  return HAY_ROUND_G * div(div(dry * 1000, ctx.rule_or_ours("grain_dm_pm")) + HAY_ROUND_G / 2, HAY_ROUND_G);
}
