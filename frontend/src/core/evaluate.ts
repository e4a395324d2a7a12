import { at_once } from "./at_once.ts";
import type { Book } from "./book.ts";
import { gestation_on, window } from "./outlook/balance.ts";
import { slot_for, standing } from "./outlook/branches.ts";
import { checkup_word } from "./outlook/checkups.ts";
import { Context } from "./outlook/context.ts";
import { tapped, wants_tap } from "./outlook/daily.ts";
import { frozen } from "./outlook/freeze.ts";
import { doubled } from "./outlook/minerals.ts";
import { off_feed_word } from "./outlook/off_feed.ts";
import { RANKS } from "./outlook/prompts.ts";
import { condition_ahead } from "./outlook/score_ahead.ts";
import type { DoeResult, FullResult, Outlook, Results, Seen } from "./outlook/shapes.ts";
import { judge, units_of, type Unit } from "./outlook/units.ts";
import { fibre_line, lines_for, pen_calcium } from "./outlook/verdicts.ts";
import type { View } from "./state/view.ts";

/**
 * Farm view and day to a result and one prompt per doe. Integers only, no biology, no clock.
 * Twin of herd/outlook/evaluate.py; its parts stand in outlook/ under the names they have there.
 */
export function evaluate(view: View, outlooks: Record<string, Outlook>, book: Book, day: string): Results {
  return evaluated(new Context(view, outlooks, book, day));
}

export function evaluated(ctx: Context): Results {
  return gathered(ctx, (unit) => at_once(judge(ctx, unit)));
}

export function gathered(ctx: Context, judged: (unit: string) => Unit): Results {
  const pens = Object.fromEntries(Object.keys(ctx.view.pens).map((pen): [string, Results["pens"][string]] => [pen, { prompt: null }]));
  const results: Results = { does: {}, pens };
  for (const unit of units_of(ctx)) {
    const { does, prompt } = judged(unit);
    for (const [id, result] of Object.entries(does)) results.does[id] = full(ctx, result);
    if (pens[unit]) pens[unit].prompt = prompt;
  }
  return results;
}

export function full(ctx: Context, result: DoeResult): FullResult {
  return { ...result, ...condition_ahead(ctx, result.id, result) };
}

/** Phase, dates and nutrient lines of one doe, before her pen is judged and a prompt is chosen. */
export function doe_result(ctx: Context, id: string): DoeResult {
  const found = seen(ctx, id);
  const ok = found.standing === "ok";
  return {
    ...found, fibre: ok ? fibre_line(ctx, id) : null, lines: ok ? lines_for(ctx, id) : {}, days: ok ? window(ctx, id, 7).days : 0,
    risk: null, prompt: null,
  };
}

/** Where she stands and what was seen of her: all that needs no sums, and can follow a tap at once. */
export function seen(ctx: Context, id: string): Seen {
  const status = standing(ctx, id);
  const doe = ctx.doe(id);
  const slot = slot_for(ctx, id, ctx.day);
  const off_feed = off_feed_word(ctx, id);
  const due = slot && doe.bred ? ctx.outlooks[id]!.due : null;
  return {
    id,
    pen: doe.pen,
    standing: status,
    phase: slot ? slot[0].phase[slot[1]]! : -1,
    lane: slot ? slot[0].lane[slot[1]]! : -1,
    gest: slot ? gestation_on(ctx, id, ctx.day) : -1,
    due,
    band: slot ? [slot[0].band_lo[slot[1]]!, slot[0].band_hi[slot[1]]!] : [],
    off_feed,
    down: off_feed !== null && off_feed.args.down,
    freeze: frozen(ctx, id),
    daily: wants_tap(ctx, id, status === "ok" ? due : null),
    tapped: tapped(ctx, id),
    doubled: doubled(ctx, id),
    checkup: checkup_word(ctx, id),
  };
}

export function shared_calcium(ctx: Context, pen: string, does: Record<string, DoeResult>): void {
  const shared = ctx.pen_mates(pen, ctx.day).filter((id) => does[id]?.lines["ca"]?.of === "pen");
  const st = shared.length ? pen_calcium(ctx, shared) : "unknown";
  for (const id of shared) Object.assign(does[id]!.lines["ca"]!, { st, ahead: null });
}

/**
 * What is said when the numbers cannot be worked: every doe asks for an update, and none is called level. One off her feed
 * is still looked at: that hangs on no number.
 */
export function unreadable(ctx: Context): Results {
  const blank = {
    phase: -1, lane: -1, gest: -1, due: null, band: [], checkup: null, fibre: null, lines: {}, days: 0, freeze: null, daily: false,
    doubled: null, condition_ahead: null, condition_why: "not_carrying", risk: null,
  };
  const bare = new Context(ctx.view, {}, ctx.book, ctx.day);
  const ids = Object.keys(ctx.view.does).filter((id) => ctx.here(id));
  const of = (id: string): FullResult => {
    const off_feed = off_feed_word(bare, id);
    const update = { code: "update_needed", args: {} };
    const { code, args } = off_feed && RANKS[off_feed.code]! < RANKS[update.code]! ? off_feed : update;
    return {
      id, pen: ctx.doe(id).pen, standing: "update_needed", ...blank, off_feed, down: off_feed !== null && off_feed.args.down,
      tapped: tapped(bare, id), prompt: { code, rank: RANKS[code]!, args, in_pen: false, subject: id },
    };
  };
  const pens = Object.fromEntries(Object.keys(ctx.view.pens).map((pen) => [pen, { prompt: null }]));
  return { does: Object.fromEntries(ids.map((id) => [id, of(id)])), pens };
}
