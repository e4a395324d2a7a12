import type { Doe } from "../../state/view.ts";
import { days_between, SCHEMA, type Context } from "./context.ts";
import type { Outlook } from "./documents.ts";
import type { BranchDay, DoeResult } from "./shapes.ts";

/** Which compiled branch holds for a doe on a date, chosen from what has been recorded. */

export function standing(ctx: Context, id: string): DoeResult["standing"] {
  if (is_buck(ctx.doe(id))) return "buck";
  const outlook = ctx.outlooks[id];
  if (outlook === undefined) return "no_outlook";
  if (outlook.schema !== SCHEMA || ctx.book.schema !== SCHEMA) return "update_needed";
  if (outlook.withheld.length && !Object.keys(outlook.branches).length) return "withheld";
  const doe = ctx.doe(id);
  const branch = branch_name(doe, outlook);
  // found carrying, nobody knows since when: her open doe's amounts are hers no more
  if (!doe.bred && doe.check?.result === "pregnant") return "waiting";
  const unknown = !Object.hasOwn(outlook.branches, branch);
  if (unknown || (branch === "as_is" && bred_key(doe) !== outlook.basis.bred)) return "waiting";
  return slot_for(ctx, id, ctx.day) ? "ok" : "stale";
}

/** A buck has no ration advice and no season; what makes no sense for him is recorded and changes nothing. */
export function is_buck(doe: Doe): boolean {
  return doe.f["sex"] === "buck";
}

/** The branch her recorded state now calls for; "none" when only a new outlook can tell. */
export function branch_name(doe: Doe, outlook: Outlook): string {
  const { basis } = outlook;
  const kidded = doe.kidded?.on ?? "";
  if (kidded !== basis.kidded) {
    const since = doe.dried_on || bred_key(doe);
    return doe.kidded && !since ? `kidded${Math.min(Math.max(doe.kidded.born, 1), 3)}` : "none";
  }
  if (bred_key(doe) !== basis.bred) {
    return !doe.bred && basis.bred && doe.dried_on === basis.dried ? "open" : "none";
  }
  if (doe.dried_on !== basis.dried) return doe.dried_on ? "dry" : "none";
  return "as_is";
}

/** The service her dates hang on, as text. */
export function bred_key(doe: Doe): string {
  return doe.bred ? `${doe.bred.from}/${doe.bred.to}` : "";
}

/** Branch and index for a date, or null outside what was compiled. Days before a change keep the state she was in. */
export function slot_for(ctx: Context, id: string, on: string): BranchDay | null {
  return ctx.memo.slot.once(id, on, () => find_slot(ctx, id, on));
}

function find_slot(ctx: Context, id: string, on: string): BranchDay | null {
  const outlook = ctx.outlooks[id];
  const doe = ctx.doe(id);
  if (outlook === undefined || outlook.schema !== SCHEMA || is_buck(doe)) return null;
  const name = branch_name(doe, outlook);
  if (name.startsWith("kidded") && on >= doe.kidded!.on) return within(outlook, name, days_between(doe.kidded!.on, on));
  const changed_on = name === "dry" ? doe.dried_on : name === "open" && doe.check ? doe.check.on : "";
  const stays = (name !== "dry" && name !== "open") || on < changed_on;
  return within(outlook, stays ? "as_is" : name, days_between(outlook.day0, on));
}

function within(outlook: Outlook, name: string, index: number): BranchDay | null {
  const branch = Object.hasOwn(outlook.branches, name) ? outlook.branches[name]! : null;
  return branch && index >= 0 && index < branch.phase.length ? [branch, index] : null;
}

/** Name of the branch that holds for a date. */
export function branch_at(ctx: Context, id: string, on: string): string {
  const slot = slot_for(ctx, id, on);
  const named = Object.entries(ctx.outlooks[id]?.branches ?? {}).find(([, branch]) => branch === slot?.[0]);
  return named?.[0] ?? "";
}

/** Day of gestation on a date by the mid due date of her outlook; -1 when not pregnant. */
export function gestation_on(ctx: Context, id: string, on: string): number {
  const outlook = ctx.outlooks[id]!;
  if (!ctx.doe(id).bred || !outlook.due) return -1;
  return outlook.branches["as_is"]!.gest[days_between(outlook.day0, on)] ?? -1;
}
