import { div, sum } from "../../base/ints.ts";
import { compareText } from "../../events/order.ts";
import type { Step } from "../../state/view.ts";
import { late_on } from "../balance/balance.ts";
import { appetite_on } from "../feeding/needs.ts";
import { share_day, waste_pm } from "../feeding/sharing.ts";
import { ACT_APART_PARTS, AHEAD_D } from "../../tables/numbers.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { days_between } from "../ground/context.ts";
import { is_pen } from "../whole/units.ts";
import { alone, barn_of, grain_of, hay_of, type Barn, type Given } from "./barn.ts";
import { least, told } from "./climb.ts";
import { grams_of, nearest_parts, parts_of, whole_parts, type Part } from "./containers.ts";
import { ahead_of } from "./forward.ts";
import { heard, OVER, SHORT } from "./hearing.ts";
import { merged } from "./on_top.ts";
import { less_grain, less_of_all, more_of_all, type Rung } from "./rungs.ts";
import type { Act, ActLine } from "./shapes.ts";
import { line_anew, over_meals } from "./steps.ts";
import { Trial } from "./trial.ts";

/**
 * A feeder that is right for the others is not for her: she is moved. She keeps her feeds, only amounts change: never
 * another pen, another hay and other grain at once.
 *
 * It is dated tomorrow, as what is fed from then on: today's meals were put out, and shared, where she stands today, so
 * that none is counted twice and she stands nowhere without hay.
 */
export function* moved(trials: Trial[], barn: Barn): Generator<void, Act[]> {
  const [{ base, mates, goal }] = trials as [Trial];
  if (alone(barn) || goal.of !== "me" || !["up", "down"].includes(goal.way)) return [];
  const said = new Set<PromptCode>();
  for (const mate of mates) {
    for (const days of [0, AHEAD_D]) heard(base.on(days), mate).codes.forEach((code) => said.add(code));
    yield;
  }
  const [short, over] = [SHORT, OVER].map((words) => words.some((code) => said.has(code)));
  // where others are off the same way, or soon will be, it is the feeder that is looked at
  if (goal.way === "down" ? over : short) return [];
  const ways = pens_for(barn).flatMap((pen) =>
    rungs_in(barn, goal.way, pen, short!).map((rung) => [pen, rung] as const),
  );
  for (const [trial, pen, rung] of trials.flatMap((trial) => ways.map((way) => [trial, ...way] as const))) {
    const [verdict, lines] = yield* least(trial, rung);
    if (!lines || (yield* puts_out(trial, pen, lines))) continue;
    const moves = { doe: barn.id, pen, made: !barn.ctx.view.pens[pen] };
    return [{ ...told(trial, rung, lines, verdict === "slow"), moves }];
  }
  return [];
}

/** A pen made for her alone: a doe has one such, whatever phone makes it. */
export const own_pen = (id: string): string => `${id.slice(0, 14)}8${id.slice(15)}`;

/**
 * Where others eat what she eats, since goats are herd animals; then one that stands empty; then one of her own. Nobody
 * late or fresh is put to strangers, nor they to her: common practice, no source.
 */
function pens_for(barn: Barn): string[] {
  const { ctx, id, unit, start } = barn;
  const hers = hay_of(barn, unit).map(([feed]) => feed);
  const pens = Object.keys(ctx.view.pens).filter((pen) => pen !== unit && is_pen(ctx, pen)).sort(compareText);
  const eats_hers = (pen: string) => {
    const given = hay_in(barn, pen);
    const same = given.length > 0 && given.every(([feed]) => hers.includes(feed));
    return same && [id, ...mates_in(barn, pen)].every(calm);
  };
  const calm = (mate: string) => {
    const { f, kidded } = ctx.doe(mate);
    const fresh = kidded && days_between(kidded.on, start) <= ctx.rule_or_ours("fresh_days");
    return f["sex"] !== "buck" && !fresh && !late_on(ctx, mate, start);
  };
  const [empty] = pens.filter((pen) => !mates_in(barn, pen).length);
  return [...pens.filter((pen) => mates_in(barn, pen).length && eats_hers(pen)), empty ?? own_pen(id)];
}

const mates_in = ({ ctx, start }: Barn, pen: string): string[] => ctx.pen_mates(pen, start);

/** Hay in a feeder, as those who stand there get it. */
function hay_in(barn: Barn, pen: string): Given[] {
  const there = host_of(barn, pen);
  return there ? hay_of(there, pen) : [];
}

const host_of = (barn: Barn, pen: string): Barn | null => {
  const [mate] = mates_in(barn, pen);
  return mate ? barn_of(barn.ctx, pen, mate, barn.of) : null;
};

/** Whoever stands there already. */
function* puts_out({ from, id, goal }: Trial, pen: string, lines: ActLine[]): Generator<void, boolean> {
  const there = new Trial(from, pen, id, goal);
  return there.mates.length > 0 && (yield* there.mates_out(ahead_of(from, pen, lines), []));
}

/**
 * By her container, then by the scale. What comes down is hay not given, and her grain; what goes up is hay. Mates that
 * are short find what she ate as well.
 */
function rungs_in(barn: Barn, way: string, pen: string, short: boolean): Rung[] {
  const given = hay_of(barn, barn.unit);
  const [main] = given;
  if (!main) return [];
  const beside = mates_in(barn, pen).length > 0;
  const grain = way === "down" ? no_grain(barn) : [];
  return parts_of(barn.ctx, main[0]).map((part, i): Rung => {
    const left = short ? [] : left_behind(barn, given as [Given, ...Given[]], i);
    const hers = (n: number) =>
      beside ? joined(barn, pen, i) : own_hay(barn, pen, given, i, way === "down" ? ACT_APART_PARTS - n : n);
    const lines = (n: number) => {
      const there = hers(n);
      return there.length ? [...there, ...grain, ...left] : [];
    };
    const most = beside ? 1 : div(ACT_APART_PARTS, way === "down" ? 2 : 1);
    return { code: "move", to: "doe", subject: barn.id, feed: main[0], most, coarse: part.by !== "g", lines };
  });
}

function no_grain(barn: Barn): ActLine[] {
  const rungs = grain_of(barn).flatMap((given) => less_grain(barn, "grain_down", given, 1).slice(-1));
  return rungs.flatMap((rung) => rung.lines(rung.most)).map((line): ActLine => {
    const [last] = line.steps.slice(-1) as [Step];
    return { ...line, steps: [...line.steps.slice(0, -1), [last[0], 0]] };
  });
}

/** Out of the feeder goes what she ate of it and no more, so that those who stay find what they found. */
function left_behind(barn: Barn, given: [Given, ...Given[]], i: number): ActLine[] {
  const { ctx, id, unit, start } = barn;
  const [[feed, slots, g]] = given;
  const ate = Object.entries(share_day(ctx, unit, start, true)).map(
    ([mate, { dm, own }]) => [mate, (dm[feed] ?? 0) - (own[feed] ?? 0)] as const,
  );
  const hers = sum(ate.filter(([mate]) => mate === id).map(([, dry]) => dry));
  const meal_g = div(g, slots.length);
  const stays_g = meal_g - div(meal_g * hers, Math.max(1, sum(ate.map(([, dry]) => dry))));
  const [held, stays] = [meal_g, stays_g].map((each) => whole_parts(parts_of(ctx, feed)[i]!, each, true));
  const parts = (held! - stays!) * slots.length;
  return parts ? less_of_all(barn, "move", unit, given)[i]!.lines(parts) : [];
}

/** So many parts of all she could eat, of each hay as much as her old feeder holds of it; hers wastes some as well. */
function own_hay({ ctx, id, start, appetite_g }: Barn, pen: string, given: Given[], i: number, n: number): ActLine[] {
  const whole = Math.max(1, sum(given.map(([, , g]) => g)));
  const held = (ctx.plans.get(pen) ?? []).filter(({ steps }) => steps.at(-1)![1]);
  const none = held.map(({ slot, feed }) => line_anew(ctx, { subject: pen, to: "pen", slot, feed }, [[start, 0]]));
  const hay = given.flatMap(([feed, slots, g], nth) => {
    const all: Part[] = parts_of(ctx, feed);
    const part = all[i] ?? all.at(-1);
    const dry = div(div(div(appetite_g * n, ACT_APART_PARTS) * g, whole) * 1000, 1000 - waste_pm(ctx, pen, feed));
    const parts = part ? nearest_parts(part, div(dry * 1000, ctx.feed(feed)!.dm_pm!)) : 0;
    // no meal of hers is without hay
    if (!nth && parts < slots.length) return [];
    return over_meals(parts, slots.length).flatMap((each, at): ActLine[] => {
      const place = { subject: pen, to: "pen" as const, slot: slots[at]!, feed };
      return each ? [{ ...line_anew(ctx, place, [[start, grams_of(part!, each)]]), moves: id }] : [];
    });
  });
  return hay[0]?.feed === given[0]![0] ? merged(none, hay) : [];
}

/** As much more of what is in their feeder as she has room for, so that they find what they found. */
function joined(barn: Barn, pen: string, i: number): ActLine[] {
  const { ctx, id, start } = barn;
  const [there, given] = [host_of(barn, pen)!, hay_in(barn, pen) as [Given, ...Given[]]];
  const room = (mate: string) => appetite_on(ctx, mate, start);
  const rung = more_of_all(there, "move", pen, given)[i];
  const part = parts_of(ctx, given[0][0])[i];
  if (!rung || !part) return [];
  const g = div(given[0][2] * room(id), Math.max(1, sum(mates_in(barn, pen).map(room))));
  return rung.lines(nearest_parts(part, g)).map((line): ActLine => ({ ...line, moves: id }));
}
