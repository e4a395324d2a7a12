import { HOUR_MS } from "../../base/days.ts";
import type { DamLook, Doe } from "../../state/view.ts";
import type { Said, Turn } from "../ground/shapes.ts";
import { bad_udder, vet_said } from "../ground/udder.ts";
import { CALENDAR_FRESH_D, DAM_AGAIN_H, DAM_LOOKS_H, FIRST_DAYS_D, KIDDING_SPAN_H } from "../../tables/numbers.ts";
import type { Rest } from "../../tables/off_feed.ts";
import type { Kidding } from "./kidding.ts";

/** The dam while she is fresh: what was seen of her, and in her first days when to look again. */
type Part = "bright" | "ate" | "halves" | "discharge";

/** What sends for the vet, the gravest first. */
const TO_VET: [Part, string, Rest][] = [
  ["halves", "cold", "cold_udder"], ["discharge", "blood", "dam_discharge"], ["bright", "no", "dam_dull"],
  ["discharge", "foul", "dam_discharge"], ["halves", "hot", "hot_udder"], ["ate", "no", "dam_dull"],
];

/** Looks at her since these kids. */
export function dam_looks_of({ dam_looks }: Doe, { first_ms }: Kidding): DamLook[] {
  return dam_looks.filter(({ happened }) => happened >= first_ms - KIDDING_SPAN_H * HOUR_MS);
}

export function dam_words(doe: Doe, kidding: Kidding, today: string): Said[] {
  if (kidding.days > CALENDAR_FRESH_D) return [];
  const looks = dam_looks_of(doe, kidding);
  const udder = bad_udder(doe, today);
  // found well by another door, or in the vet's hands: the word that stands until she is well goes on by itself
  const open = udder !== null && !vet_said(doe, udder);
  const word = bad(looks, kidding, open);
  const next = kidding.days > FIRST_DAYS_D ? null : wait(looks, kidding, word?.code === "dam_vet");
  return [word, next].filter((said) => said !== null);
}

/** As she was last seen. */
export const is_dull = (doe: Doe, kidding: Kidding) => last(dam_looks_of(doe, kidding), "bright")?.bright === "no";

const last = (looks: DamLook[], part: Part) => looks.findLast((look) => look[part]);

/** Of her hay and of milk not yet there the first look says nothing: she is tired, and it may still come. */
function bad(looks: DamLook[], kidding: Kidding, udder: boolean): Said | null {
  const told = (part: Part, value: string) => last(looks, part)?.[part] === value;
  const late = (part: Part) => look_no(hours(last(looks, part)!.happened, kidding)) > 0;
  const holds = (part: Part) => (part === "ate" ? late(part) : part !== "halves" || udder);
  const vet = TO_VET.find(([part, value]) => told(part, value) && holds(part));
  if (vet) return { code: "dam_vet", args: { why: vet[1] === "no" ? vet[0] : vet[1], rests: [vet[2]] } };
  if (told("halves", "one")) return { code: "dam_udder", args: { why: "one", rests: ["hot_udder"] } };
  const none = told("halves", "none") && late("halves");
  return none ? { code: "dam_udder", args: { why: "none", rests: ["dam_dull"] } } : null;
}

const PARTS = ["first", "next", "day", "last"];
const hours = (at_ms: number, { last_ms }: Kidding) => (at_ms - last_ms) / HOUR_MS;

/** Which of the looks one counts as: the nearest; -1 where it was made as the kids came, and none is over by it. */
function look_no(h: number): number {
  return DAM_LOOKS_H.findLastIndex((due, k) => h >= (due + (DAM_LOOKS_H[k - 1] ?? 0)) / 2);
}

function wait(looks: DamLook[], kidding: Kidding, grave: boolean): Said | null {
  const { timed, last_ms } = kidding;
  const next = looks.length ? look_no(hours(looks.at(-1)!.happened, kidding)) + 1 : 0;
  const h = DAM_LOOKS_H[next];
  if (h === undefined) return null;
  const usual_ms = last_ms + h * HOUR_MS;
  // who is called about is not left until the next round of looks
  const again_ms = grave ? looks.at(-1)!.happened + DAM_AGAIN_H * HOUR_MS : Infinity;
  const due_ms = Math.min(usual_ms, again_ms);
  const turns: Turn[] = [[due_ms, "dam_look"]];
  const rests: Rest[] = [...(timed ? [] : (["kid_hour_unsaid"] as const)), "dam_looks"];
  return { code: "dam_wait", args: { why: PARTS[next]!, since_ms: last_ms, timed, recheck_ms: due_ms, turns, rests } };
}
