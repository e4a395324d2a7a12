import { HOUR_MS } from "../../base/days.ts";
import type { Doe, KidLook } from "../../state/view.ts";
import type { Kidding } from "./kidding.ts";
import { is_dead, written_n, type Line } from "./litter.ts";
import {
  COLOSTRUM_ML_KG, COLOSTRUM_UNTIL_H, KID_COLD_X10, KID_LOOKS_H, KID_WARM_HOLDS_H, KIDDING_SPAN_H,
} from "../../tables/numbers.ts";

/**
 * What was last seen of each kid, and whether milk may be spoken of. Never into a kid that is cold or does not swallow,
 * and never by guess: warmth and swallowing are told first.
 */
export interface Kid {
  n: number;
  /** Its record; "" where it has none. */
  id: string;
  /** Its number in that record. */
  written: number;
  looks: KidLook[];
  state: "" | "cold" | "no_swallow" | "warm";
  /** It has drunk colostrum, or somebody put it there. */
  drank: boolean;
}

/** Those to be looked after: none that is dead or has gone, and no more than were said to be alive. */
export function kids_of({ kid_looks }: Doe, { first_ms, born, alive, litter }: Kidding): Kid[] {
  const since = first_ms - KIDDING_SPAN_H * HOUR_MS;
  const looks = kid_looks.filter(({ happened }) => happened >= since);
  const all = [...with_records(litter, looks), ...without(litter, born, looks)].sort((a, b) => a.n - b.n);
  const gone = new Set(litter.filter((kid) => is_dead(kid) || kid.f["out"]).map(({ id }) => id));
  const living = all.filter((kid) => !gone.has(kid.id) && !kid.looks.some(({ dead }) => dead));
  const seen = living.filter((kid) => kid.looks.length > 0);
  const unseen = living.filter((kid) => kid.looks.length === 0).slice(0, Math.max(0, alive - seen.length));
  return living.filter((kid) => seen.includes(kid) || unseen.includes(kid));
}

/** A look that names no record is of the first that has its number. */
function with_records(litter: Line[], looks: KidLook[]): Kid[] {
  const by_number = (n: number) => litter.find((line) => written_n(line) === n)?.id;
  return litter.map((line) => {
    const ids = [line.id, ...line.others];
    const own = looks.filter(({ of, kid }) => (of ? ids.includes(of) : by_number(kid) === line.id));
    return { ...kid_of(line.shown, own), id: line.id, written: written_n(line) };
  });
}

/** Those of whom nobody wrote more than that they were born, or how they were. */
function without(litter: Line[], born: number, looks: KidLook[]): Kid[] {
  const taken = new Set(litter.map(written_n));
  const named = looks.filter(({ of, kid }) => !of && !taken.has(kid)).map(({ kid }) => kid);
  const free = Array.from({ length: born }, (_, k) => k + 1).filter((n) => !taken.has(n) && !named.includes(n));
  const more = free.slice(0, Math.max(0, born - litter.length - new Set(named).size));
  const all = [...new Set([...named, ...more])].sort((a, b) => a - b);
  const most = Math.max(0, ...litter.map(({ shown }) => shown));
  const is_used = (n: number) => litter.some(({ shown }) => shown === n);
  return all.map((n, k) => {
    const kid = kid_of(n, looks.filter((look) => !look.of && look.kid === n));
    return { ...kid, n: is_used(n) ? most + k + 1 : n };
  });
}

function kid_of(n: number, looks: KidLook[]): Kid {
  const drank = looks.some(({ fed, belly }) => belly === "full" || (fed !== "" && fed !== "none"));
  return { n, id: "", written: n, looks, state: state_of(looks), drank };
}

function state_of(looks: KidLook[]): Kid["state"] {
  const swallows = last(looks, "swallows")?.swallows;
  if (is_cold(looks)) return "cold";
  if (swallows === "no") return "no_swallow";
  return swallows && (last(looks, "mouth") ?? last(looks, "rectal_c_x10")) ? "warm" : "";
}

/** Of a cold kid as well: what is cold and does not swallow is the vet's. */
export const does_not_swallow = ({ looks }: Kid) => last(looks, "swallows")?.swallows === "no";

/** A cold reading is undone by a reading alone, a cold mouth by a warm one or by a reading. */
function is_cold(looks: KidLook[]): boolean {
  const [read, felt] = [last(looks, "rectal_c_x10"), last(looks, "mouth")];
  if (read && read.rectal_c_x10 < KID_COLD_X10) return true;
  return felt?.mouth === "cold" && !(read && looks.indexOf(read) > looks.indexOf(felt));
}

const last = (looks: KidLook[], key: "mouth" | "rectal_c_x10" | "swallows") => looks.findLast((look) => look[key]);

/** The first feed in millilitres for a kilogram of kid; 0 wherever no amount may be shown. */
export function colostrum_ml_kg({ state, looks }: Kid, { last_ms }: Kidding, now_ms: number): number {
  if (state !== "warm") return 0;
  const told = [last(looks, "swallows")!, last(looks, "rectal_c_x10"), last(looks, "mouth")];
  const warm_ms = Math.max(...told.slice(1).map((look) => look?.happened ?? 0));
  const holds = now_ms - Math.min(told[0]!.happened, warm_ms) <= KID_WARM_HOLDS_H * HOUR_MS;
  return holds && now_ms - last_ms <= COLOSTRUM_UNTIL_H * HOUR_MS ? COLOSTRUM_ML_KG : 0;
}

/** Hours after the last kid at which each of them is to be looked at next; null once all looks are made. */
export function next_look_h(kids: Kid[], { last_ms }: Kidding): number | null {
  const due = kids.map(({ looks }) => {
    const seen_h = ((looks.at(-1)?.happened ?? 0) - last_ms) / HOUR_MS;
    return KID_LOOKS_H.find((h, k) => seen_h < (h + (KID_LOOKS_H[k - 1] ?? 0)) / 2) ?? null;
  });
  return due.reduce((first, h) => (first === null || (h !== null && h < first) ? h : first), null);
}

/** Whose look that is. */
export function lacking(kids: Kid[], kidding: Kidding, h: number): number[] {
  return kids.filter((kid) => next_look_h([kid], kidding) === h).map(({ n }) => n);
}
