import { confirmed, eaten_on } from "./balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { step_most } from "./grain.ts";
import { GRAIN_USUAL_D, JUMP_BACK_D, JUMP_CLEAN_D } from "../../tables/numbers.ts";

/** What grain she is used to, walked through her confirmed days: a step makes it more, a jump does not. */
export interface Jump {
  on: string;
  /** Dry grain on her last confirmed day, and beyond what she is used to. */
  g: number;
  beyond_g: number;
  /** What she held on each of the three days before it. */
  back_g: number;
}

type Day = [on: string, g: number];

/** The jump she is on, or null; nothing is told before three days are confirmed. */
export function jump_of(ctx: Context, id: string): Jump | null {
  if (steady(ctx, id)) return null;
  const days = confirmed_days(ctx, id, JUMP_BACK_D);
  if (days.length <= GRAIN_USUAL_D) return null;
  let held = Math.max(...days.slice(0, GRAIN_USUAL_D).map(([, g]) => g));
  let [jumped, lower]: [Day[], number[]] = [[], []];
  for (const day of days.slice(GRAIN_USUAL_D)) {
    const [on, g] = day;
    if (g > held + step_most(ctx, id)) {
      jumped = clean(ctx, id, jumped[0]?.[0] ?? on, on) ? [...jumped, day] : [day];
      if (jumped.length < JUMP_CLEAN_D) continue;
      [held, jumped, lower] = [Math.min(...jumped.map(([, each]) => each)), [], []];
    } else {
      jumped = [];
      lower = g < held ? [...lower, g] : [];
      held = g >= held ? g : lower.length < JUMP_CLEAN_D ? held : Math.max(...lower);
    }
  }
  return jumped.length ? told(days, jumped, held) : null;
}

function told(days: Day[], jumped: Day[], held: number): Jump {
  const first = days.indexOf(jumped[0]!);
  const back_g = Math.min(...days.slice(first - GRAIN_USUAL_D, first).map(([, g]) => g));
  const [on, g] = jumped.at(-1)!;
  return { on, g, beyond_g: g - held, back_g };
}

/** Lately about the same, or next to nothing: then nothing farther back has to be looked for. */
function steady(ctx: Context, id: string): boolean {
  const amounts = confirmed_days(ctx, id, JUMP_CLEAN_D + GRAIN_USUAL_D).map(([, g]) => g);
  const last = amounts.at(-1) ?? 0;
  const enough = amounts.length > JUMP_CLEAN_D + GRAIN_USUAL_D - 1;
  return last <= step_most(ctx, id) || (enough && last - Math.min(...amounts) <= step_most(ctx, id));
}

/** Oldest first, of today only once it is confirmed. */
function confirmed_days(ctx: Context, id: string, back_d: number): Day[] {
  const days = Array.from({ length: back_d + 1 }, (_, k) => shift(ctx.day, k - back_d));
  return days.filter((on) => confirmed(ctx, id, on)).map((on) => [on, eaten_on(ctx, id, on).day_g]);
}

/** Dung and cud as they should be on those days, and no meal refused. */
function clean(ctx: Context, id: string, from: string, to: string): boolean {
  const doe = ctx.doe(id);
  const ill = doe.checkups.some(([on, , , , , , , seen]) => on >= from && on <= to && is_sign(seen));
  const refused = ctx.view.intakes.some(
    ({ subject, on, how }) => subject === id && on >= from && on <= to && how === "refused",
  );
  return !ill && !refused;
}

/** What an upset rumen shows first. */
export function is_sign({ dung, cud, belly }: { dung: string; cud: string; belly: string }): boolean {
  return dung === "loose" || dung === "none" || cud === "none" || belly === "tight";
}
