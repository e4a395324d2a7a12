import { late_on } from "./balance.ts";
import { is_fresh } from "../feeding/daily.ts";
import { slot_for } from "../ground/branches.ts";
import { PHASE } from "../../tables/codes.ts";
import { days_between, type Context } from "../ground/context.ts";
import { bad_udder, vet_said, type Udder } from "../ground/udder.ts";
import type { Args, Said } from "../ground/shapes.ts";
import type { Checkup } from "../../state/view.ts";
import {
  CALENDAR_FRESH_D, FRESH_FEVER_X10, KETONES_HOLD_D, SEEN_HOLD_D, TEMPERATURE_HOLD_D,
} from "../../tables/numbers.ts";
import type { PromptCode } from "../../tables/prompts.ts";
import { SEEN, URINE } from "../../tables/off_feed.ts";

/**
 * Ketones, temperature, belly and udder: what a reading or a look at her asks for. Bands are herd rules; what a tight
 * side and a cold udder ask for is common practice, no source.
 */
const WORDS = ["vet", "act", "watch"];

/** The prompt her last readings call for, or null. */
export function checkup_word(ctx: Context, id: string): Said | null {
  const said = [belly(ctx, id), udder(ctx, id), temperature(ctx, id), ketones(ctx, id)].filter(
    (word) => word !== null,
  );
  const weight = ({ code }: Said) => WORDS.indexOf(code.split("_")[1]!);
  return said.sort((a, b) => weight(a) - weight(b))[0] ?? null;
}

function last(ctx: Context, id: string, place: 2 | 3 | 4, blank: number | string, days: number): Checkup | null {
  const row = ctx.doe(id).checkups.filter((each) => each[0] <= ctx.day && each[place] !== blank).at(-1);
  return row && days_between(row[0], ctx.day) <= days ? row : null;
}

/** What was seen of her belly last, today or yesterday. */
function belly(ctx: Context, id: string): Said | null {
  const row = ctx.doe(id).checkups.findLast((each) => each[0] <= ctx.day && each[7].belly);
  const code = row && days_between(row[0], ctx.day) <= SEEN_HOLD_D ? SEEN.belly[row[7].belly] : undefined;
  return row && code ? say(code, { on: row[0] }) : null;
}

/** Her udder as it was found last, until somebody writes that it is well again. */
function udder(ctx: Context, id: string): Said | null {
  const bad = bad_udder(ctx.doe(id), ctx.day);
  const code = bad ? SEEN.udder[bad.what] : undefined;
  if (!bad || !code || said_of_dam(ctx, id, bad)) return null;
  if (code === "udder_vet") return say(code, { on: bad.on, rests: ["cold_udder"] });
  return say(code, { on: bad.on, ...(vet_said(ctx.doe(id), bad) ? { why: "vet" } : {}) });
}

function said_of_dam(ctx: Context, id: string, bad: Udder): boolean {
  const doe = ctx.doe(id);
  const fresh_d = days_between(doe.kidded?.on ?? bad.on, ctx.day);
  return bad.of_dam === true && !vet_said(doe, bad) && fresh_d <= CALENDAR_FRESH_D;
}

function temperature(ctx: Context, id: string): Said | null {
  const row = last(ctx, id, 2, 0, TEMPERATURE_HOLD_D);
  if (row === null) return null;
  const args = { x10: row[2], on: row[0] };
  if (row[2] < ctx.rule("temp_low_vet_x10") || row[2] >= ctx.rule("temp_high_vet_x10"))
    return say("temperature_vet", args);
  if (row[2] >= FRESH_FEVER_X10 && is_fresh(ctx, id))
    return say("temperature_vet", { ...args, what: "fresh", rests: ["fever_fresh"] });
  const off = row[2] < ctx.rule("temp_low_x10") || row[2] > ctx.rule("temp_high_x10");
  return off ? say("temperature_watch", args) : null;
}

function ketones(ctx: Context, id: string): Said | null {
  if (!near_kidding(ctx, id)) return null;
  // after kidding it is ketosis, before it toxemia
  const state = ctx.doe(id).kidded && !ctx.doe(id).bred ? "fresh" : "late";
  const blood = last(ctx, id, 3, 0, KETONES_HOLD_D);
  const urine = last(ctx, id, 4, "", KETONES_HOLD_D);
  // blood is the surer of the two, so a urine strip speaks only where no blood was read since
  if (blood && !(urine && urine[1] > blood[1])) {
    const word = blood_band(ctx, blood[3]);
    return word ? say(`ketones_${word}`, { x10: blood[3], urine: "", on: blood[0], state }) : null;
  }
  const word = urine ? URINE[urine[4]] : undefined;
  return urine && word ? say(`ketones_${word}`, { x10: 0, urine: urine[4], on: urine[0], state }) : null;
}

/** "vet", "act", "watch", "clear" or "" (a clean strip) by her last reading; null when there is none to go by. */
export function ketone_word(ctx: Context, id: string): string | null {
  const blood = last(ctx, id, 3, 0, KETONES_HOLD_D);
  const urine = last(ctx, id, 4, "", KETONES_HOLD_D);
  if (blood && !(urine && urine[1] > blood[1])) return blood_band(ctx, blood[3]) || "clear";
  return urine ? (URINE[urine[4]] ?? "") : null;
}

function blood_band(ctx: Context, bhb_x10: number): "vet" | "act" | "watch" | "" {
  if (bhb_x10 >= ctx.rule("bhb_vet_x10")) return "vet";
  if (bhb_x10 >= ctx.rule("bhb_act_x10")) return "act";
  return bhb_x10 >= ctx.rule("bhb_watch_x10") ? "watch" : "";
}

/** Whether her last reading is high enough to bear out a short ration. */
export function high_ketones(ctx: Context, id: string): boolean {
  const said = ketones(ctx, id);
  return said !== null && !said.code.endsWith("watch");
}

function near_kidding(ctx: Context, id: string): boolean {
  const slot = slot_for(ctx, id, ctx.day);
  if (slot === null) return true;
  return late_on(ctx, id, ctx.day) || slot[0].phase[slot[1]] === PHASE.fresh;
}

function say(code: PromptCode, args: Args): Said {
  return { code, args };
}
