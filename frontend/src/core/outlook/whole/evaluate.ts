import { at_once } from "../../base/at_once.ts";
import type { Book } from "../ground/herd_figures.ts";
import { Context } from "../ground/context.ts";
import { tapped } from "../feeding/daily.ts";
import { first_days } from "../kidding/first_days.ts";
import { labour_word } from "../kidding/labour.ts";
import { ate_grain_word, overload_word } from "../ill/overload.ts";
import { off_feed_word } from "../ill/off_feed.ts";
import { one_feed_of } from "../ill/one_feed.ts";
import { prolapse_word } from "../kidding/prolapse.ts";
import { RANKS } from "../../tables/prompts.ts";
import { condition_ahead } from "../balance/score_ahead.ts";
import type { Outlook } from "../ground/documents.ts";
import type { DoeResult, FullResult, Results, Said } from "../ground/shapes.ts";
import { judge, units_of, type Unit } from "./units.ts";
import type { View } from "../../state/view.ts";

/**
 * Farm view and day to a result and one prompt per doe. Integers only, no biology, no clock.
 * Python asks this very code (herd/outlook/evaluate.py), so there is no second one to keep beside it.
 */
export function evaluate(view: View, outlooks: Record<string, Outlook>, book: Book, day: string): Results {
  return evaluated(new Context(view, outlooks, book, day));
}

export function evaluated(ctx: Context): Results {
  return gathered(ctx, (unit) => at_once(judge(ctx, unit)));
}

export function gathered(ctx: Context, judged: (unit: string) => Unit): Results {
  const pens = Object.fromEntries(
    Object.keys(ctx.view.pens).map((pen): [string, Results["pens"][string]] => [pen, { prompt: null }]),
  );
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

/**
 * What is said when the numbers cannot be worked: every doe asks for an update, and none is called level. One off her
 * feed is still looked at: that hangs on no number.
 */
export function unreadable(ctx: Context): Results {
  const blank = {
    phase: -1, lane: -1, gest: -1, due: null, band: [], checkup: null, fibre: null, lines: {}, days: 0,
    freeze: null, daily: false, doubled: null, condition_ahead: null, condition_why: "not_carrying",
    awaited: null, on_acts: [], risk: null,
  };
  const bare = new Context(ctx.view, {}, ctx.book, ctx.day);
  const ids = Object.keys(ctx.view.does).filter((id) => ctx.here(id));
  const of = (id: string): FullResult => {
    const off_feed = off_feed_word(bare, id);
    const down = off_feed !== null && off_feed.args.down;
    const labour = labour_word(bare, id, down);
    const update: Said = { code: "update_needed", args: {} };
    const kids = first_days(bare, id, off_feed !== null);
    const grave = [labour, prolapse_word(bare, id), off_feed, overload_word(bare, id), ...kids];
    const { code, args } = grave.find((said) => said && RANKS[said.code] < RANKS[update.code]) ?? update;
    return {
      id, pen: ctx.doe(id).pen, standing: "update_needed", ...blank, off_feed, labour, down,
      first_days: kids, ate_grain: down ? null : ate_grain_word(bare, id),
      one_feed: one_feed_of(bare, id), tapped: tapped(bare, id),
      prompt: { code, rank: RANKS[code], args, in_pen: false, subject: id },
    };
  };
  const pens = Object.fromEntries(Object.keys(ctx.view.pens).map((pen) => [pen, { prompt: null }]));
  return { does: Object.fromEntries(ids.map((id) => [id, of(id)])), pens };
}
