import { choose_all, doe_result, shared_calcium } from "../evaluate.ts";
import type { Envelope } from "../events.ts";
import { MEAL_KINDS, OF_DOE_KINDS } from "../kinds.ts";
import { compareText } from "../order.ts";
import { rows, text } from "../state/values.ts";
import type { Doe } from "../state/view.ts";
import { shift, type Context } from "./context.ts";
import type { DoeResult, Results } from "./shapes.ts";

/**
 * Results after a few more observations: only does that share a feeder with somebody they are about are worked again,
 * and the rest stand as they were. The whole evaluation gives the same, later.
 */
const BACK_D = 106;
const AHEAD_D = 61;
/** What is about one doe or one feeder, and about nothing else. */
const LOCAL = new Set<string>([...MEAL_KINDS, ...OF_DOE_KINDS, "round"]);

export function isLocal(event: Envelope): boolean {
  return LOCAL.has(event.kind);
}

export function re_evaluated(ctx: Context, before: Results, events: Envelope[]): Results {
  const ids = Object.keys(ctx.view.does).sort(compareText).filter((id) => ctx.here(id));
  const worked = reached(ctx, ids, new Set(events.flatMap(who)));
  const anew = ids.filter((id) => worked.has(id) || before.does[id] === undefined);
  const does: Record<string, DoeResult> = {};
  for (const id of ids) does[id] = worked.has(id) || !before.does[id] ? doe_result(ctx, id) : unsaid(before.does[id]!);
  for (const pen of Object.keys(ctx.view.pens)) {
    if (ctx.pen_mates(pen, ctx.day).some((id) => worked.has(id))) shared_calcium(ctx, pen, does);
  }
  return choose_all(ctx, anew, does);
}

/** Who ate with somebody touched on a day that matters, and whoever stands at a feeder with one of those today. */
function reached(ctx: Context, ids: string[], touched: Set<string>): Set<string> {
  const pens = new Set([...touched].flatMap((id) => (Object.hasOwn(ctx.view.does, id) ? pens_of(ctx, id) : [id])));
  const ate_with = ids.filter((id) => pens_of(ctx, id).some((pen) => pens.has(pen)));
  const beside = ate_with.flatMap((id) => ctx.pen_mates(ctx.doe(id).pen, ctx.day));
  return new Set([...ate_with, ...beside]);
}

function who(event: Envelope): string[] {
  const lines = event.kind === "fed" ? rows(event.data, "lines").map((line) => text(line, "to")) : [];
  return [event.subject, ...lines.filter((to) => to !== "")];
}

/** Every pen she was or will be in on the days that can matter, or herself while she is in none. */
function pens_of(ctx: Context, id: string): string[] {
  const { moves }: Doe = ctx.view.does[id]!;
  const [from, to] = [shift(ctx.day, -BACK_D), shift(ctx.day, AHEAD_D)];
  const before = moves.filter(([on]) => on <= from).at(-1)?.[1] ?? "";
  const since = moves.filter(([on]) => on > from && on <= to).map(([, pen]) => pen);
  return [before, ...since].map((pen) => pen || id);
}

function unsaid(result: DoeResult): DoeResult {
  return result.prompt?.in_pen ? { ...result, prompt: { ...result.prompt, in_pen: false } } : result;
}
