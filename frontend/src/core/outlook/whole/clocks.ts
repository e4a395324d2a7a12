import { MIN_MS } from "../../base/days.ts";
import { LOOK_NOW, type PromptCode } from "../../tables/prompts.ts";
import type { Context } from "../ground/context.ts";
import type { Seen } from "../ground/shapes.ts";
import { case_of, clock_ms } from "../ill/off_feed_case.ts";
import { watch_look } from "../kidding/watch.ts";
import { is_watched } from "../words/resting.ts";
import { seen } from "./doe_result.ts";

/**
 * What somebody with a closed phone is told, and from when on: a clock that falls due, or trouble that another one
 * wrote down. `key_ms` stays the same as long as it is the same matter; `by` wrote it down and knows.
 */
export interface Clock {
  doe: string;
  kind: "clock" | "ill" | "watch" | "kids";
  code: PromptCode | "off_feed_look" | "watch_look";
  at_ms: number;
  key_ms: number;
  urgent: boolean;
  by: string;
}

/**
 * Of every doe in the herd on that day, by what was seen of her alone: no sums, no clock but the time given, and when
 * the farm's day began.
 */
export function clocks(ctx: Context, now_ms: number, day_ms: number): Clock[] {
  const here = Object.keys(ctx.view.does).filter((id) => ctx.here(id)).sort();
  return here.flatMap((id) => {
    const found = seen(ctx, id);
    const watch = of_watch(ctx, found, now_ms, day_ms);
    return [...of_labour(ctx, found), ...of_case(ctx, found), ...of_kids(ctx, found), ...watch];
  });
}

const is_urgent = (code: PromptCode) => LOOK_NOW.includes(code);

function due(doe: string, kind: Clock["kind"], code: Clock["code"], at_ms: number, urgent: boolean): Clock {
  return { doe, kind, code, at_ms, key_ms: at_ms, urgent, by: "" };
}

function of_labour(ctx: Context, { id, labour }: Seen): Clock[] {
  if (!labour) return [];
  const { since_ms, vet_at_ms } = labour.args;
  const last = ctx.doe(id).signs.at(-1)!;
  const told: Clock = { ...due(id, "ill", labour.code, last[0], true), key_ms: since_ms, by: last[3] };
  return vet_at_ms ? [told, due(id, "clock", "labour_vet", vet_at_ms, true)] : [told];
}

/** Trouble to be looked at now goes to the others at once; once the vet knows, the next look alone is waited for. */
function of_case(ctx: Context, { id, off_feed }: Seen): Clock[] {
  const found = off_feed && case_of(ctx, id);
  if (!off_feed || !found) return [];
  const { recheck_ms, vet_at_ms, since_ms, urgency } = off_feed.args;
  const grave = is_urgent(off_feed.code);
  const at_ms = clock_ms(found);
  const rows = [...found.meals.flat(), ...found.looks];
  const by = rows.findLast(({ happened }) => happened === at_ms)?.author ?? "";
  const told: Clock = { ...due(id, "ill", off_feed.code, at_ms, true), key_ms: since_ms, by };
  return [
    ...(grave && urgency !== "called" ? [told] : []),
    ...(vet_at_ms ? [due(id, "clock", "off_feed_vet", vet_at_ms, true)] : []),
    due(id, "clock", "off_feed_look", recheck_ms, grave),
  ];
}

function of_kids(ctx: Context, { id, first_days }: Seen): Clock[] {
  return first_days.flatMap(({ code, args }) => {
    const turns = (args["turns"] ?? []) as [at_ms: number, code: PromptCode][];
    const told = turns.map(([at_ms, then]) => due(id, "kids", then, at_ms, is_urgent(then)));
    const last = ctx.doe(id).kid_looks.at(-1);
    if (code !== "kid_cold" || !last) return told;
    const again = due(id, "kids", code, Number(args["recheck_ms"]), true);
    return [...told, { ...due(id, "kids", code, last.happened, true), by: last.author }, again];
  });
}

/** A look near kidding that nobody made. */
function of_watch(ctx: Context, { id, phase, labour, due: dates }: Seen, now_ms: number, day_ms: number): Clock[] {
  const doe = ctx.doe(id);
  if (labour || !is_watched(phase, doe, now_ms)) return [];
  const clock = { day: ctx.day, minute: Math.floor((now_ms - day_ms) / MIN_MS), ms: now_ms };
  const near = { due: dates, table: ctx.book.signs, unattended_h: ctx.rule_or_ours("unattended_h"), clock };
  const { due_ms } = watch_look(doe, near);
  return due_ms ? [due(id, "watch", "watch_look", due_ms, false)] : [];
}
