import { waits, type Waits } from "../../core/barn/helper_waits.ts";
import { with_change, type Change, type Finding } from "../../core/outlook/gates/change.ts";
import { found_between, gate, NOTHING_FOUND, type Gate } from "../../core/outlook/gates/gates.ts";
import { reasons } from "../../core/outlook/gates/reasons.ts";
import { rule_steps } from "../../core/outlook/gates/rule_steps.ts";
import { percent } from "../words/format.ts";
import { day } from "../model/day.svelte.ts";
import { infoOf, spokenAmount } from "../sentences/amounts.ts";
import { session } from "../model/session.svelte.ts";
import { stands } from "../model/stands.ts";
import { t, type Args } from "../words/text.ts";

/** What is asked before a ration is saved: what it would do, and why it waits where a helper wants it. */
export interface Asked extends Gate {
  change: Change;
  waits: Waits | "found" | "stands";
  /** Until when the amounts stand, where a sitter's pack is why it waits. */
  until: string;
}

/** Null where it may be saved without a word. */
export function asked(change: Change): Asked | null {
  const found = judged(change);
  const until = stands(change);
  const helps = session.plans ? "" : waits(day.view, change) || (found.findings.length ? "found" : "");
  const held = until ? "stands" : helps;
  return held || found.findings.length ? { ...found, change, waits: held, until } : null;
}

/** What is asked before several are let in together; the farm as it would be with all of them. */
export function asked_together(changes: Change[]): Asked | null {
  const findings = known(() => {
    const { ctx } = session.farm!.evaluation(day.today);
    return found_between(ctx, changes.reduce(with_change, ctx), changes);
  }, []);
  return findings.length ? { ...NOTHING_FOUND, findings, change: changes[0]!, waits: "", until: "" } : null;
}

function judged(change: Change): Gate {
  return known(() => gate(session.farm!.evaluation(day.today).ctx, change), NOTHING_FOUND);
}

/** As much of the herd rules' steps for her as may be saved. */
export function byRule(of: Omit<Change, "steps">): Gate {
  return known(() => rule_steps(session.farm!.evaluation(day.today).ctx, of), NOTHING_FOUND);
}

export function reasonsFor({ findings }: Gate): string[] {
  return reasons(session.farm!.evaluation(day.today).ctx, findings);
}

/** Numbers this app has not got say nothing: it asks to be updated elsewhere. */
function known<T>(judge: () => T, nothing: T): T {
  try {
    return judge();
  } catch (error) {
    if (error instanceof RangeError) return nothing;
    throw error;
  }
}

export function sentence({ code, on, does, args }: Finding, feed: string): string {
  const { from, g, limit, part_pm, now_pm, then_pm, less_pm, days } = args;
  const [first, ...more] = does.map((id) => day.named(id));
  const said: Args = { name: first!, on: day.spoken(on), feed: infoOf(feed).name };
  const amounts = Object.entries({ from, g, limit });
  for (const [key, one] of amounts) if (one !== undefined) said[key] = day.amount(one);
  const shares = Object.entries({ part: part_pm, now: now_pm, then: then_pm, less: less_pm });
  for (const [key, one] of shares) if (one !== undefined) said[key] = percent(one);
  const what = t(code === "grain_jump" && !from ? "gate.grain_jump.new" : `gate.${code}`, { ...said, days: days ?? 0 });
  return more.length ? `${what} ${t("gate.more", { n: more.length, names: more.join(", ") })}` : what;
}

const FIRST = 2;

/** "25 g tomorrow, then 50 g on Thursday ... 300 g on 12 December". */
export function spokenSteps(feed: string, steps: [string, number][]): string {
  const said = steps.map(([on, g]) => t("gate.step", { g: spokenAmount(feed, g), on: day.mealDay(on) }));
  const last = said.length > FIRST ? said.at(-1)! : "";
  const first = said.slice(0, FIRST).join(t("gate.then"));
  return last ? t(said.length > FIRST + 1 ? "gate.steps.long" : "gate.steps", { first, last }) : first;
}
