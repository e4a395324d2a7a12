import { compareText } from "../../events/order.ts";
import { confirmed, day_sums, permille, window } from "../balance/balance.ts";
import { slot_for } from "../ground/branches.ts";
import { ketone_word } from "../balance/checkups.ts";
import { need_pm } from "../balance/reach.ts";
import type { Doe } from "../../state/view.ts";
import { days_between, shift, type Context } from "../ground/context.ts";
import { held_score, milk_on } from "../feeding/needs.ts";
import type { RiskPart } from "../ground/documents.ts";
import type { DoeResult, Risk, Said } from "../ground/shapes.ts";
import { many_open } from "../verdict/feeder.ts";
import { dense } from "../verdict/verdicts.ts";
import { UPSET_D, UPSET_PM, WEEK_D } from "../../tables/numbers.ts";

/**
 * Compiled points and those of the day. Judgement; it sorts, and never replaces a sign.
 */
const [DOWN, REFUSED, SLOW] = ["not_up", ["refused", "not_up"], ["slow", "left_some"]];
/** What somebody can change today; the rest is known so that she is looked at first. */
const TODAY = ["calcium_short", "energy_short", "energy_well_short", "much_calcium", "sick", "slow_to_feed", "upset"];
const ACTS = { toxemia: ["energy_well_short", "upset"], milk_fever: ["calcium_short", "upset"] };

type Edges = RiskPart["edges"];

/** Each null outside its weeks; null when she is in neither, or nothing was compiled. */
export function risk_of(ctx: Context, id: string, result: DoeResult): DoeResult["risk"] {
  const part = result.standing === "ok" ? ctx.outlooks[id]!.risk : undefined;
  if (!part || Object.keys(part.points).length === 0) return null;
  const to_go = result.gest >= 0 && result.due ? days_between(ctx.day, result.due.mid) : null;
  const found = {
    toxemia: toxemia(ctx, id, result, part, to_go), milk_fever: milk_fever(ctx, id, result, part, to_go),
  };
  return found.toxemia || found.milk_fever ? found : null;
}

/** A prompt only where she is in the urgent band by points alone and something can be changed today. */
export function risk_word({ risk, lines }: DoeResult): Said | null {
  for (const name of ["toxemia", "milk_fever"] as const) {
    const of = risk?.[name];
    if (!of || of.band !== "urgent" || of.by_sign || !ACTS[name].includes(of.most)) continue;
    // the calcium line says it, for her or for her pen
    if (of.most === "calcium_short" && lines["ca"]!.st !== "level") continue;
    return { code: `risk_${name}`, args: { what: of.most, points: of.points } };
  }
  return null;
}

function toxemia(ctx: Context, id: string, result: DoeResult, part: RiskPart, to_go: number | null): Risk | null {
  if (to_go === null || to_go > part.edges["window_d"]!) return null;
  const [how, ketones] = [how_of(result), ketone_word(ctx, id)];
  const codes = [...condition(ctx, id, part), ...energy(ctx, id, result, part)];
  if (to_go <= part.edges["last_d"]!) codes.push("last_month");
  if (REFUSED.includes(how)) codes.push("off_feed");
  else if (SLOW.includes(how)) codes.push("slow_to_feed");
  if (result.checkup?.code.startsWith("temperature")) codes.push("sick");
  if (upset(ctx, id)) codes.push("upset");
  if (ketones) codes.push(`ketones_${ketones}`);
  const find = [ketones === null && "ketones", !part.counted && "litter", held_score(ctx, id) === null && "score"];
  const factors = new Map([...part.toxemia, ...codes.map((code) => [code, part.points[code]!] as const)]);
  return weighed(factors, find, REFUSED.includes(how) || ketones === "vet", part.edges);
}

function milk_fever(ctx: Context, id: string, result: DoeResult, part: RiskPart, to_go: number | null): Risk | null {
  const { points, edges } = part;
  const { kidded } = ctx.doe(id);
  const carrying = to_go !== null;
  if (!fever_may_come(ctx, kidded, result, part, carrying)) return null;
  const factors = new Map([...part.milk_fever, ...litter(part, carrying ? null : kidded)]);
  if (!carrying && milk_on(ctx, id, ctx.day) > edges["heavy_milk_g"]!) factors.set("heavy_milk", points["heavy_milk"]!);
  if (upset(ctx, id)) factors.set("upset", points["feed_upset"]!);
  if (["act", "vet"].includes(ketone_word(ctx, id) ?? "")) factors.set("toxemia_signs", points["toxemia_signs"]!);
  for (const code of calcium(ctx, id, result, edges, to_go)) factors.set(code, points[code]!);
  const find = [result.lines["ca"]!.st === "unknown" && "calcium", ...(carrying ? [!part.counted && "litter"] : [])];
  return weighed(factors, find, how_of(result) === DOWN, edges);
}

type Kidded = Doe["kidded"];

function fever_may_come(
  ctx: Context, kidded: Kidded, { gest }: DoeResult, { edges }: RiskPart, carrying: boolean,
): boolean {
  if (carrying) return gest >= edges["fever_from_gest"]!;
  const since = kidded ? days_between(kidded.on, ctx.day) : -1;
  return since >= 0 && since <= edges["fever_until_dim"]!;
}

/** What is known of the kids to come, or the number that was born. */
function litter(part: RiskPart, kidded: Kidded): [code: string, points: number][] {
  if (!kidded) return part.litter;
  if (kidded.born > 2) return [["triplets", part.points["litter_three"]!]];
  return kidded.born === 2 ? [["twins", part.points["litter_two"]!]] : [];
}

function weighed(factors: Map<string, number>, find: (string | false)[], by_sign: boolean, edges: Edges): Risk {
  const present = [...factors].map(([code, n]) => ({ code, points: n })).filter((factor) => factor.points !== 0);
  present.sort((a, b) => b.points - a.points || compareText(a.code, b.code));
  const points = Math.max(0, present.reduce((all, factor) => all + factor.points, 0));
  const urgent = by_sign || points >= edges["urgent_from"]!;
  const band = urgent ? "urgent" : points >= edges["alert_from"]! ? "alert" : "low";
  const change = present.find((factor) => factor.points > 0 && TODAY.includes(factor.code));
  const unknown = find.filter((what) => what !== false);
  const most = change?.code ?? (unknown.length ? `find_${unknown[0]}` : "");
  const blind = !urgent && unknown.length === find.length;
  return { band, points, factors: present, most, by_sign, unknown, blind };
}

function how_of({ off_feed }: DoeResult): string {
  return off_feed ? String(off_feed.args["how"]) : "";
}

function condition(ctx: Context, id: string, { edges }: RiskPart): string[] {
  const score = held_score(ctx, id);
  if (score === null) return [];
  const { x100 } = score;
  return [...(x100 >= edges["fat_from_x100"]! ? ["fat"] : []), ...(x100 <= edges["thin_to_x100"]! ? ["thin"] : [])];
}

/**
 * Against what she can eat to: the appetite that falls near kidding makes nobody a case. With three kids and more it
 * does until her ketones are clear: what she cannot eat comes off her back, and does that fell ill ate four fifths.
 */
function energy(ctx: Context, id: string, { lines }: DoeResult, { edges }: RiskPart): string[] {
  const [week, slot] = [window(ctx, id, WEEK_D), slot_for(ctx, id, ctx.day)];
  if (lines["me"]!.st === "unknown" || slot === null || !week.days) return [];
  const floor = slot[0].floor_me_kj[slot[1]]! * week.days;
  const asked = floor ? Math.min(floor, week.need.me) : week.need.me;
  const pm = many_open(ctx, id) ? need_pm(ctx, week) : permille(week.got.me, asked);
  if (pm < edges["energy_well_short_pm"]!) return ["energy_well_short"];
  return pm < edges["energy_short_pm"]! ? ["energy_short"] : [];
}

/** By her own line, or by the pen's where her hay is shared. Much calcium stands for sole legume hay late. */
function calcium(ctx: Context, id: string, { lines }: DoeResult, edges: Edges, to_go: number | null): string[] {
  const [line, week] = [lines["ca"]!, window(ctx, id, WEEK_D)];
  if (line.st === "unknown") return [];
  const short = line.st === "short" || (line.of === "doe" && line.pm < edges["calcium_short_pm"]!);
  const late = to_go !== null && to_go <= edges["much_calcium_last_d"]!;
  const rich = dense(week.got.ca, week.dm) > ctx.rule("calcium_dense_ug_g");
  const much = late && rich && line.pm > edges["much_calcium_pm"]!;
  return [...(short ? ["calcium_short"] : []), ...(much ? ["much_calcium"] : [])];
}

/** Moved to another pen, or a day on half her feed, within a few days. */
function upset(ctx: Context, id: string): boolean {
  const { moves } = ctx.doe(id);
  const moved = moves.some(([on, pen], i) => {
    const before = i > 0 ? moves[i - 1]![1] : "";
    const ago = days_between(on, ctx.day);
    return before !== "" && before !== pen && ago >= 0 && ago <= UPSET_D;
  });
  const week = window(ctx, id, WEEK_D);
  if (moved || !week.days) return moved;
  return Array.from({ length: UPSET_D }, (_, k) => shift(ctx.day, -1 - k)).some((on) => {
    const sums = confirmed(ctx, id, on) ? day_sums(ctx, id, on, false) : null;
    return sums !== null && sums.got.me * 1000 * week.days < week.got.me * UPSET_PM;
  });
}
