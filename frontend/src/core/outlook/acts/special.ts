import { div } from "../../base/ints.ts";
import { amount_on, place_key } from "../../state/planned.ts";
import type { Ration, Step } from "../../state/view.ts";
import { days_between, shift, SLOTS, type Context } from "../ground/context.ts";
import { is_forage, is_grain } from "../ground/feed_classes.ts";
import { grain_g } from "../feeding/sharing.ts";
import { ACT_SWITCH_D, ACT_SWITCH_PARTS, AHEAD_D } from "../../tables/numbers.ts";
import { best, bowl_of, grain_of, hay_of, of_class, target, type Barn } from "./barn.ts";
import { grams_of, nearest_parts, parts_of } from "./containers.ts";
import { hay_for_grain } from "./exchange.ts";
import { next_raise_on, parts_a_step, more_hay, type Rung } from "./rungs.ts";
import { line_anew, line_of, stepped } from "./steps.ts";

/** What answers a limit, a step or a cut: the amount is not the matter, but how it is given. */

/** Grain that is too much for a meal, given in more of them; the day's total stays. */
export function hold_split(barn: Barn): Rung[] {
  const { ctx, id, start } = barn;
  return grain_of(barn).flatMap(([feed, slots]) => {
    const held = (slot: string) => amount_on(ctx.view.rations[place_key(id, slot, feed)]?.steps ?? [], start);
    const from = slots.reduce((most, slot) => (held(slot) > held(most) ? slot : most));
    const others = SLOTS.filter((slot) => slot !== from).sort((a, b) => held(a) - held(b) || of_hers(barn, a, b));
    return parts_of(ctx, feed).flatMap((part) =>
      others.map((to): Rung => {
        const place = { subject: id, to: "doe" as const, feed };
        const lines = (n: number) => [
          line_of(ctx, { ...place, slot: from }, part, [[start, -n]]),
          line_of(ctx, { ...place, slot: to }, part, [[start, n]]),
        ];
        const most = nearest_parts(part, div(held(from) - held(to), 2));
        return { code: "hold_split", to: "doe", subject: id, feed, most, lines };
      }),
    );
  });
}

/** A meal she has already before one somebody has to come out for. */
function of_hers({ meals }: Barn, a: string, b: string): number {
  return Number(meals.includes(b)) - Number(meals.includes(a));
}

/** The amounts her grain is to reach, in the farm's steps and days. */
export function safe_steps(barn: Barn): Rung[] {
  const { ctx, id } = barn;
  const rising = (ctx.plans.get(id) ?? []).filter((ration) => is_grain(ctx.feed(ration.feed)) && rises(ctx, ration));
  const parts = rising.map(({ feed }) => parts_of(ctx, feed).find((part) => parts_a_step(ctx, id, feed, part) > 0));
  if (!rising.length || parts.some((part) => !part)) return [];
  const counts = rising.map(({ steps }, i) => more_parts(ctx, steps, parts[i]!));
  const one_g = Math.max(...rising.map(({ feed }, i) => grain_g(ctx, [[feed, grams_of(parts[i]!, 1)]])));
  const each = Math.max(1, div(ctx.outlooks[id]!.limits.step_g, Math.max(1, one_g)));
  const changes = stepped(counts, each, next_raise_on(ctx, id), ctx.outlooks[id]!.limits.step_days);
  const lines = () =>
    rising.map(({ slot, feed, steps }, i) => {
      const now = nearest_parts(parts[i]!, amount_on(steps, ctx.day));
      const anew = changes[i]!.map(([on, more]): Step => [on, grams_of(parts[i]!, now + more)]);
      const held: Step = [shift(ctx.day, 1), amount_on(steps, ctx.day)];
      return line_anew(ctx, { subject: id, to: "doe", slot, feed }, anew[0]?.[0] === held[0] ? anew : [held, ...anew]);
    });
  return [{ code: "safe_steps", to: "doe", subject: id, feed: "", most: 1, lines }];
}

function more_parts(ctx: Context, steps: Step[], part: Parameters<typeof nearest_parts>[0]): number {
  return nearest_parts(part, steps.at(-1)![1]) - nearest_parts(part, amount_on(steps, ctx.day));
}

const rises = (ctx: Context, { steps }: Ration): boolean => steps.at(-1)![1] > amount_on(steps, ctx.day);

/** A change of hay that is planned all at once, a quarter of it at a time from the same day on. */
export function hay_in_steps(barn: Barn): Rung[] {
  const { ctx, id, unit } = barn;
  const hays = [...new Set([id, unit])].flatMap((subject) => ctx.plans.get(subject) ?? []).filter((ration) => {
    return is_forage(ctx.feed(ration.feed)) && changes_on(ctx, ration) !== "";
  });
  const first = hays.map((ration) => changes_on(ctx, ration)).sort()[0];
  if (!first) return [];
  const lines = () =>
    hays.map(({ subject, slot, feed, steps }) => {
      const [now, then] = [amount_on(steps, ctx.day), steps.at(-1)![1]];
      return line_anew(ctx, { subject, to: target(barn, subject), slot, feed }, quarters(ctx, feed, first, now, then));
    });
  const shared = hays.some(({ subject }) => target(barn, subject) === "pen");
  return [{ code: "hay_in_steps", to: shared ? "pen" : "doe", subject: shared ? unit : id, feed: "", most: 1, lines }];
}

function changes_on(ctx: Context, { steps }: Ration): string {
  const now = amount_on(steps, ctx.day);
  return steps.find(([on, g]) => on > ctx.day && days_between(ctx.day, on) <= AHEAD_D && g !== now)?.[0] ?? "";
}

function quarters(ctx: Context, feed: string, first: string, now: number, then: number): Step[] {
  const part = parts_of(ctx, feed).at(-1);
  const whole = (g: number) => (part ? grams_of(part, nearest_parts(part, g)) : g);
  return Array.from({ length: ACT_SWITCH_PARTS }, (_, k): Step => {
    const on = shift(first, div(ACT_SWITCH_D * k, ACT_SWITCH_PARTS - 1));
    return [on, k + 1 < ACT_SWITCH_PARTS ? whole(now + div((then - now) * (k + 1), ACT_SWITCH_PARTS)) : then];
  });
}

/** Late, what comes down soon stays as it is. */
export function keep_amount(barn: Barn): Rung[] {
  const { ctx, id, unit, start } = barn;
  const falling = [...new Set([id, unit])].flatMap((subject) => ctx.plans.get(subject) ?? []).filter((ration) => {
    const now = amount_on(ration.steps, ctx.day);
    return ration.steps.some(([on, g]) => on > ctx.day && days_between(ctx.day, on) <= AHEAD_D && g < now);
  });
  if (!falling.length) return [];
  const lines = () =>
    falling.map(({ subject, slot, feed, steps }) =>
      line_anew(ctx, { subject, to: target(barn, subject), slot, feed }, [[start, amount_on(steps, ctx.day)]]),
    );
  const shared = falling.some(({ subject }) => target(barn, subject) === "pen");
  return [{ code: "keep_amount", to: shared ? "pen" : "doe", subject: shared ? unit : id, feed: "", most: 1, lines }];
}

/** Long hay where she has too little fibre. */
export function more_fibre(barn: Barn): Rung[] {
  const [main] = hay_of(barn, barn.unit).concat(hay_of(barn, barn.id));
  const feeds = best(barn, of_class(barn, "grass"), true).concat(main ? [main[0]] : []);
  const hay = [...new Set(feeds)].flatMap((feed) => more_hay(barn, "own_bowl", bowl_of(barn), feed, barn.meals));
  return [...hay, ...hay_for_grain(barn)];
}
