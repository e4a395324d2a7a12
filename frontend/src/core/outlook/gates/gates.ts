import { days_between, shift, type Context } from "../ground/context.ts";
import type { Step } from "../../state/view.ts";
import { GATE_LOOK_D } from "../../tables/numbers.ts";
import { calcium_findings } from "./calcium_gate.ts";
import { reached, with_change, type Both, type Change, type Finding } from "./change.ts";
import { cut_findings } from "./cut_gate.ts";
import { grain_findings } from "./grain_gate.ts";
import { hay_findings } from "./hay_gate.ts";
import { safe_paths } from "./safe_steps.ts";

/** What is said of a ration before it is saved, and the steps that get there safely. Pure: nothing is recorded. */
export interface Gate {
  findings: Finding[];
  /** None where nothing was found, or nothing slower is safe either. */
  safe: Step[];
  /** What is still to be said of those steps. */
  left: Finding[];
}

const OF_PACE: readonly string[] = ["grain_jump", "grain_fast", "grain_meal", "grain_day", "hay_switch"];

export function gate(ctx: Context, change: Change): Gate {
  const found = findings(ctx, change);
  const paced = found.filter(({ code }) => OF_PACE.includes(code)).length;
  if (paced === 0) return { findings: found, safe: [], left: [] };
  for (const steps of safe_paths(ctx, change)) {
    const left = findings(ctx, { ...change, steps });
    if (!left.some(({ code }) => OF_PACE.includes(code))) return { findings: found, safe: steps, left };
  }
  return { findings: found, safe: [], left: [] };
}

export function findings(ctx: Context, change: Change): Finding[] {
  return found_between(ctx, with_change(ctx, change), [change]);
}

/** Of each kind once, with everybody it is about; the first doe's figures. Changes made together count together. */
export function found_between(now: Context, then: Context, changes: Change[]): Finding[] {
  const both: Both = { now, then, changes, days: days_of(now, changes) };
  const all = new Map<string, Finding>();
  for (const id of new Set(changes.flatMap(({ subject }) => reached(now, subject)))) {
    const found = [grain_findings, hay_findings, calcium_findings, cut_findings].flatMap((find) => find(both, id));
    for (const one of found) {
      const held = all.get(one.code);
      all.set(one.code, held ? { ...held, does: [...held.does, id] } : one);
    }
  }
  return [...all.values()];
}

/** From today, as far as they change anything and no farther than it can be told. */
function days_of({ day }: Context, changes: Change[]): string[] {
  const until = Math.max(0, ...changes.map(({ steps }) => days_between(day, steps.at(-1)![0])));
  const last = Math.min(until, GATE_LOOK_D);
  return Array.from({ length: last + GATE_LOOK_D / 2 + 1 }, (_, k) => shift(day, k));
}
