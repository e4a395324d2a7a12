import { PHASE } from "../../core/tables/codes.ts";
import { addDays, dayOf } from "../words/format.ts";
import type { Outlook } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";

export const YEAR_HEIGHT = 62;
export const LINE_Y = 22;
const EDGE = 12;
/** As narrow as a month's name is written, with air. */
const MONTH_PX = 40;

export type What = "kidded" | "bred" | "check" | "dry" | "close_up" | "due";

/** One thing of her year; `to` where it is a range. */
export interface Milestone {
  what: What;
  on: string;
  to: string;
}

type Told = Pick<Doe, "bred" | "check" | "dried_on" | "kidded">;
const at = (what: What, on = "", to = on): Milestone => ({ what, on, to: to || on });

/** Her year in order: what was recorded, and what follows from it by the herd's rules. */
export function milestones(doe: Told, outlook: Outlook | null): Milestone[] {
  const done = recorded(doe);
  const has_dried = done.some(({ what, on }) => what === "dry" && on);
  const ahead = doe.bred && outlook ? toCome(outlook).filter(({ what }) => what !== "dry" || !has_dried) : [];
  return [...done, ...ahead].filter(({ on }) => on).sort((a, b) => dayOf(a.on) - dayOf(b.on));
}

function recorded({ bred, check, dried_on, kidded }: Told): Milestone[] {
  const from = kidded?.on ?? bred?.from ?? "";
  const since = (on = "") => (on >= from ? on : "");
  return [
    at("kidded", kidded?.on), at("bred", bred?.from, bred?.to), at("check", since(check?.on)),
    at("dry", since(dried_on)),
  ];
}

/** A doe that was dry when she was bred has no drying off to come. */
function toCome({ season, due }: Outlook): Milestone[] {
  if (!season?.day0) return [];
  const begins = (phase: number) => {
    const i = season.phase.indexOf(phase);
    return i < 0 ? "" : addDays(season.day0, i);
  };
  const dry = season.phase.includes(PHASE.carrying_in_milk) ? begins(PHASE.dry) : "";
  return [at("dry", dry), at("close_up", begins(PHASE.close_up)), at("due", due?.early, due?.late)];
}

/** Where they stand on a line so many pixels wide, today among them. Pure geometry. */
export class YearPlot {
  readonly left = EDGE;
  readonly right: number;
  readonly months: { on: string; x: number }[];
  readonly #first: number;
  readonly #px: number;

  constructor(rows: Milestone[], today: string, width: number) {
    const days = [today, ...rows.flatMap(({ on, to }) => [on, to])].map(dayOf);
    this.#first = Math.min(...days);
    const long = Math.max(1, Math.max(...days) - this.#first);
    this.right = Math.max(EDGE + 1, width - EDGE);
    this.#px = (this.right - EDGE) / long;
    this.months = this.#months(rows, long);
  }
  x(on: string): number {
    return Math.round(this.left + (dayOf(on) - this.#first) * this.#px);
  }
  #months(rows: Milestone[], long: number): { on: string; x: number }[] {
    const start = rows[0]?.on;
    if (!start) return [];
    const days = Array.from({ length: long + 1 }, (_, i) => addDays(start, i));
    const named = days.filter((on) => on.endsWith("-01")).map((on) => ({ on, x: this.x(on) }));
    const each = Math.max(1, Math.ceil(MONTH_PX / (30 * this.#px)));
    return named.filter(({ x }, i) => i % each === 0 && x > EDGE + 6 && x < this.right - 6);
  }
}
