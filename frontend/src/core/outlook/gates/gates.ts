import { at_once } from "../../base/at_once.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import type { Step } from "../../state/view.ts";
import { as_if_weighed } from "../feeding/plan.ts";
import { GATE_LOOK_D } from "../../tables/numbers.ts";
import { legume_beside, type Beside } from "./beside.ts";
import { calcium_findings } from "./calcium_gate.ts";
import { reached, with_change, type Both, type Change, type Finding } from "./change.ts";
import { cut_findings } from "./cut_gate.ts";
import { grain_findings } from "./grain_gate.ts";
import { hay_findings } from "./hay_gate.ts";
import { furthest, safe_paths } from "./safe_steps.ts";

/** What is said of a ration before it is saved, and the steps that may be saved instead. Pure: nothing is recorded. */
export interface Gate {
  findings: Finding[];
  /** They pass every gate; they get to the amount, or as far as it goes. Empty where nothing was found or none pass. */
  safe: Step[];
  /** Why they stop short, or why slower steps do not pass either. */
  left: Finding[];
  /** Legume that would let them get there, put in first. */
  beside: Beside | null;
}

export function gate(ctx: Context, change: Change): Gate {
  const found = findings(ctx, change);
  return found.length ? { findings: found, ...instead(ctx, change, found) } : NOTHING_FOUND;
}

export const NOTHING_FOUND: Gate = { findings: [], safe: [], left: [], beside: null };

function instead(ctx: Context, change: Change, found: Finding[]): Omit<Gate, "findings"> {
  const soars = found.some(({ code }) => code === "calcium_rise");
  const find = (steps: Step[]) => {
    const left = findings(ctx, { ...change, steps });
    return left.length || !soars ? left : still_soars(ctx, change, steps);
  };
  const tried = safe_paths(ctx, change).map((path) => ({ ...path, left: find(path.steps) }));
  const whole = tried.find(({ left }) => left.length === 0);
  if (whole) return { safe: whole.steps, left: [], beside: null };
  const beside = legume_beside(ctx, change, tried, (farm, one) => findings(farm, one).length === 0);
  for (const path of tried) {
    const safe = furthest(path, (steps) => find(steps).length === 0);
    if (safe.length) return { safe, left: path.left, beside };
  }
  return { safe: [], left: tried.at(-1)?.left ?? [], beside };
}

/** Too much calcium today is no less for coming slowly: where they end has to pass from the first day on. */
function still_soars(ctx: Context, change: Change, steps: Step[]): Finding[] {
  const at_once: Step[] = [[steps[0]![0], steps.at(-1)![1]]];
  return findings(ctx, { ...change, steps: at_once }).filter(({ code }) => code === "calcium_rise");
}

export function findings(ctx: Context, change: Change): Finding[] {
  return found_between(ctx, with_change(ctx, change), [change]);
}

/** Of each kind once, with everybody it is about; the worst doe first, with her figures. */
export function found_between(now: Context, then: Context, changes: Change[]): Finding[] {
  return at_once(found_in_steps(now, then, changes));
}

/** Takes a breath after each doe. */
export function* found_in_steps(before: Context, after: Context, changes: Change[]): Generator<void, Finding[]> {
  const [now, then] = [as_if_weighed(before), as_if_weighed(after)];
  const both: Both = { now, then, changes, days: days_of(now, changes) };
  const all = new Map<string, Finding>();
  for (const id of new Set(changes.flatMap(({ subject }) => reached(now, subject)))) {
    const found = [grain_findings, hay_findings, calcium_findings, cut_findings].flatMap((find) => find(both, id));
    for (const one of found) {
      const held = all.get(one.code);
      all.set(one.code, held ? both_of(held, one) : one);
    }
    yield;
  }
  return [...all.values()];
}

function both_of(held: Finding, one: Finding): Finding {
  const [first, then] = badness(one) > badness(held) ? [one, held] : [held, one];
  return { ...first, does: [...first.does, ...then.does] };
}

/** Within one code: by what is said of her. */
function badness({ code, args }: Finding): number {
  const { from = 0, limit = 0, g = 0, then_pm = 0, part_pm = 0, less_pm = 0 } = args;
  return g - from - limit + part_pm + less_pm + (code === "calcium_fall" ? -then_pm : then_pm);
}

/** From today, as far as they change anything and no farther than it can be told. */
function days_of({ day }: Context, changes: Change[]): string[] {
  const until = Math.max(0, ...changes.map(({ steps }) => days_between(day, steps.at(-1)![0])));
  const last = Math.min(until, GATE_LOOK_D);
  return Array.from({ length: last + GATE_LOOK_D / 2 + 1 }, (_, k) => shift(day, k));
}
