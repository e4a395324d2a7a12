import { place_key } from "../../state/planned.ts";
import { eaten_on } from "../balance/balance.ts";
import { shift, type Context } from "../ground/context.ts";
import { is_grain, might_be_grain } from "../ground/feed_classes.ts";
import { day_limit, step_most, used_to } from "../balance/grain.ts";
import type { Both, Change, Finding } from "./change.ts";

/** A rise of grain that is more than a step, or comes too soon after the last; a meal or a day over her limit. */
interface Rise {
  on: string;
  from_g: number;
  g: number;
  after_d: number;
}

export function grain_findings(both: Both, id: string): Finding[] {
  const { changes, now } = both;
  const [blank] = changes.flatMap((change) => unknown(both, id, change));
  if (blank) return [blank];
  if (!changes.some(({ feed }) => is_grain(now.feed(feed)))) return [];
  return [jump(both, id), fast(both, id), over(both, id, "meal"), over(both, id, "day")].flatMap((one) => one ?? []);
}

/** A bag nobody has said the class of may be grain, and then it would be a jump. */
function unknown({ now }: Both, id: string, { slots, steps, subject, feed }: Change): Finding[] {
  if (!might_be_grain(now.feed(feed)) || is_grain(now.feed(feed))) return [];
  const { step_g } = now.outlooks[id]!.limits;
  const held = slots.map((slot) => now.view.rations[place_key(subject, slot, feed)]?.steps.at(-1)?.[1] ?? 0);
  const most = Math.max(...steps.map(([, g]) => g));
  const rise = held.reduce((total, g) => total + Math.max(0, most - g), 0);
  const heads = subject === id ? 1 : now.pen_mates(subject, now.day).length;
  if (rise <= step_g * heads) return [];
  return [{ code: "class_unknown", on: steps[0]![0], does: [id], args: { g: most } }];
}

/** Each rise along the plan, from what she is used to. A trifle is none. */
export function rises(ctx: Context, id: string, used_g: number, days: string[]): Rise[] {
  const { step_g, step_days } = ctx.outlooks[id]!.limits;
  const trifle = step_most(ctx, id) - step_g;
  let [last, before] = [last_rise(ctx, id, trifle, step_days), used_g];
  const found: Rise[] = [];
  for (const [k, on] of days.entries()) {
    const g = eaten_on(ctx, id, on, true).day_g;
    if (g - before > trifle) {
      found.push({ on, from_g: before, g, after_d: k - last });
      last = k;
    }
    before = g;
  }
  return found;
}

/** How many days ago the plan rose last, below nothing; as many as no longer matter where it did not. */
function last_rise(ctx: Context, id: string, trifle: number, step_days: number): number {
  const on = (back: number) => eaten_on(ctx, id, shift(ctx.day, -back), true).day_g;
  for (let back = 1; back < step_days; back++) if (on(back) - on(back + 1) > trifle) return -back;
  return -step_days;
}

function jump({ now, then, days }: Both, id: string): Finding | null {
  const [most, used] = [step_most(now, id), used_to(now, id)];
  const before = new Map(rises(now, id, used, days).map((rise) => [rise.on, rise.g - rise.from_g]));
  const found = rises(then, id, used, days).find(
    ({ on, from_g, g }) => g - from_g > most && g - from_g > (before.get(on) ?? 0),
  );
  if (!found) return null;
  const { on, from_g: from, g } = found;
  return { code: "grain_jump", on, does: [id], args: { from, g, limit: now.outlooks[id]!.limits.step_g } };
}

function fast({ now, then, days }: Both, id: string): Finding | null {
  const { step_days } = now.outlooks[id]!.limits;
  const used = used_to(now, id);
  const soon = (ctx: Context) => rises(ctx, id, used, days).filter(({ after_d }) => after_d < step_days);
  const before = new Set(soon(now).map(({ on }) => on));
  const found = soon(then).find(({ on }) => !before.has(on));
  return found ? { code: "grain_fast", on: found.on, does: [id], args: { days: step_days } } : null;
}

function over({ now, then, days }: Both, id: string, of: "meal" | "day"): Finding | null {
  for (const on of days) {
    const limit = of === "meal" ? now.outlooks[id]!.limits.grain_meal_g : day_limit(now, id, on);
    const [g, before] = [then, now].map((ctx) => eaten_on(ctx, id, on, true)[`${of}_g`]) as [number, number];
    if (g > limit && g > before) return { code: `grain_${of}`, on, does: [id], args: { g, limit } };
  }
  return null;
}
