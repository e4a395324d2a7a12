import { sum } from "../../base/ints.ts";
import { amount_on } from "../../state/planned.ts";
import type { Freeze, Ration } from "../../state/view.ts";
import { days_between, shift, type Context } from "./context.ts";
import { might_be_grain } from "./feed_classes.ts";
import type { Frozen } from "./shapes.ts";

/**
 * Grain held as it is while a doe is off her feed: planned raises do not come, and what is out stays out.
 */
export function freeze_on(ctx: Context, id: string, on: string): Freeze | null {
  const held = Object.hasOwn(ctx.view.does, id) ? ctx.doe(id).freeze : null;
  return held && held.since <= on && on <= held.until ? held : null;
}

/** Grams of a line by day. */
type ByDay = (on: string) => number;

/** The days of a freeze; `moves`: what was planned before it goes on from where it stood once it is over. */
interface Wait {
  since: string;
  until: string;
  /** No grain from this day on, "" where it is only held. */
  out_on: string;
  moves: boolean;
}

/**
 * Grams of a ration line on a date: what waits stays as it was on the day its freeze began, none while it is out, and
 * later raises come by as many days later.
 */
export function held_amount(ctx: Context, ration: Ration, on: string, g: number, by_day = by_steps(ration)): number {
  const waits = waits_of(ctx, ration);
  const reached = waits.some(({ since, until, moves }) => since <= on && (on <= until || moves));
  return reached ? Math.min(g, waits.reduce(waiting, by_day)(on)) : g;
}

const by_steps = ({ steps }: Ration): ByDay => (on) => amount_on(steps, on);

function waiting(by_day: ByDay, { since, until, out_on, moves }: Wait): ByDay {
  const days = days_between(since, until) + 1;
  return (on) => {
    if (on < since) return by_day(on);
    if (on <= until) return out_on && out_on <= on ? 0 : Math.min(by_day(on), by_day(since));
    return moves ? Math.min(by_day(on), by_day(shift(on, -days))) : by_day(on);
  };
}

/**
 * Days by which raises come later that were planned before a freeze now over: they go on from where they stood, and
 * what was missed does not come at once. 0 where somebody has planned this grain since.
 */
export function waited_d(ctx: Context, ration: Ration, on: string): number {
  const over = waits_of(ctx, ration).filter(({ until, moves }) => moves && until < on);
  return sum(over.map(({ since, until }) => days_between(since, until) + 1));
}

/** In the order of days. */
function waits_of(ctx: Context, ration: Ration): Wait[] {
  const held = Object.hasOwn(ctx.view.does, ration.subject) ? ctx.doe(ration.subject).freeze : null;
  const grain = might_be_grain(ctx.feed(ration.feed));
  if (held === null || !(grain || goes_with_grain(ration))) return [];
  const [out_on, { hlc, since, until }] = [grain && held.grain_out ? held.out_on : "", held];
  const all = [...(held.earlier ?? []).map(([from, to, stamp]) => ({ since: from, until: to, hlc: stamp, out_on: "" })),
    { since, until, hlc, out_on }];
  return all.filter((one) => one.since <= one.until).map((one) => ({ ...one, moves: ration.hlc <= one.hlc }));
}

/** What a plan raises step by step beside her grain is one change with it. */
const goes_with_grain = ({ marks }: Ration): boolean => RISING.includes(marks.at(-1)?.act ?? "");
const RISING = ["plan_close_up", "plan_fresh"];

/** The freeze that holds today. */
export function frozen(ctx: Context, id: string): Frozen | null {
  const held = freeze_on(ctx, id, ctx.day);
  if (held === null) return null;
  const { since, until, grain_out, author } = held;
  return { since, until, grain_out, author, days_left: days_between(ctx.day, until) };
}
