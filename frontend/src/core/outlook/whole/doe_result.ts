import { pen_on } from "../../state/where.ts";
import { window } from "../balance/balance.ts";
import { bred_key, gestation_on, slot_for, standing } from "../ground/branches.ts";
import { checkup_word } from "../balance/checkups.ts";
import { NUTRIENTS, type Context } from "../ground/context.ts";
import { tapped, wants_tap } from "../feeding/daily.ts";
import { first_days } from "../kidding/first_days.ts";
import { frozen } from "../ground/freeze.ts";
import { due_by_calendar } from "../kidding/overdue.ts";
import { labour_word } from "../kidding/labour.ts";
import { doubled } from "../balance/minerals.ts";
import { one_feed_of } from "../ill/one_feed.ts";
import { off_feed_word } from "../ill/off_feed.ts";
import { ate_grain_word } from "../ill/overload.ts";
import type { Due } from "../ground/documents.ts";
import type { DoeResult, Seen } from "../ground/shapes.ts";
import { WEEK_D } from "../../tables/numbers.ts";
import { on_acts } from "../verdict/on_act.ts";
import { score_awaited } from "../verdict/score_awaited.ts";
import { fibre_line, lines_for, pen_calcium } from "../verdict/verdicts.ts";

/** Phase, dates and nutrient lines of one doe, before her pen is judged and a prompt is chosen. */
export function doe_result(ctx: Context, id: string, ahead = NUTRIENTS): DoeResult {
  const found = seen(ctx, id);
  const ok = found.standing === "ok";
  return {
    ...found, fibre: ok ? fibre_line(ctx, id) : null, lines: ok ? lines_for(ctx, id, ahead) : {},
    days: ok ? window(ctx, id, WEEK_D).days : 0, awaited: ok ? score_awaited(ctx, id) : null,
    on_acts: ok ? on_acts(ctx, id) : [], risk: null, prompt: null,
  };
}

/** Where she stands and what was seen of her: all that needs no sums, and can follow a tap at once. */
export function seen(ctx: Context, id: string): Seen {
  const status = standing(ctx, id);
  const doe = ctx.doe(id);
  const slot = slot_for(ctx, id, ctx.day);
  const [off_feed, checkup] = [off_feed_word(ctx, id), checkup_word(ctx, id)];
  const down = off_feed !== null && off_feed.args.down;
  const due = status === "buck" ? null : worked_out(ctx, id) ?? due_by_calendar(doe);
  return {
    id,
    pen: pen_on(doe, ctx.day),
    standing: status,
    phase: slot ? slot[0].phase[slot[1]]! : -1,
    lane: slot ? slot[0].lane[slot[1]]! : -1,
    gest: slot ? gestation_on(ctx, id, ctx.day) : -1,
    due,
    band: slot ? [slot[0].band_lo[slot[1]]!, slot[0].band_hi[slot[1]]!] : [],
    off_feed,
    labour: labour_word(ctx, id, down),
    first_days: first_days(ctx, id, off_feed !== null || checkup?.code.startsWith("temperature") === true),
    one_feed: one_feed_of(ctx, id),
    down,
    ate_grain: down || ctx.tried ? null : ate_grain_word(ctx, id),
    freeze: frozen(ctx, id),
    daily: wants_tap(ctx, id, status === "ok" ? due : null),
    tapped: tapped(ctx, id),
    doubled: doubled(ctx, id),
    checkup,
  };
}

/** Of this service, where a server has it. */
function worked_out(ctx: Context, id: string): Due | null {
  const dated = ctx.doe(id).bred && (slot_for(ctx, id, ctx.day) || is_past_due(ctx, id));
  return dated ? ctx.outlooks[id]!.due : null;
}

/** So long past due that only her dates were compiled. */
function is_past_due(ctx: Context, id: string): boolean {
  const [doe, outlook] = [ctx.doe(id), ctx.outlooks[id]];
  return Boolean(outlook?.withheld.length) && outlook!.basis.bred === bred_key(doe);
}

export function shared_calcium(ctx: Context, pen: string, does: Record<string, DoeResult>): void {
  const shared = ctx.pen_mates(pen, ctx.day).filter((id) => does[id]?.lines["ca"]?.of === "pen");
  const st = shared.length ? pen_calcium(ctx, shared) : "unknown";
  for (const id of shared) Object.assign(does[id]!.lines["ca"]!, { st, ahead: null });
}
