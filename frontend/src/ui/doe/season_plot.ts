import type { MangerDay } from "../../core/outlook/balance/season.ts";
import { dayOf } from "../words/format.ts";

export const HEIGHT = 190;
/** Room for the words on the left and the months at the foot. */
const [LEFT, RIGHT, TOP, FOOT] = [62, 10, 14, 30];
const MIDDLE = (TOP + HEIGHT - FOOT) / 2;
const MOST_PM = 400;
const ROOM_PM = 470;
/** Half as high as what is level is drawn, and as the foot of a trough. */
const [LEVEL_PX, FOOT_PX] = [5, 1.5];
/** Where, per thousand, the words beside the line stand. */
const WORDS = { over: 240, level: 0, short: -240 };

export type Shape = "level" | "over" | "trough" | "foot";
export interface Outline {
  shape: Shape;
  planned: boolean;
  /** A path of every column of this kind: a hundred days are a handful of elements. */
  d: string;
}

/** How far a day's feeding stood from need, per thousand; null where nothing is known. Far values stop at the edge. */
export function away(day: MangerDay): number | null {
  const [, got, need] = day;
  if (got < 0 || need <= 0) return null;
  return Math.max(-MOST_PM, Math.min(MOST_PM, Math.round((got * 1000) / need) - 1000));
}

const y = (pm: number) => MIDDLE - ((MIDDLE - TOP) * pm) / ROOM_PM;
const px = (n: number) => String(Math.round(n * 10) / 10);

/** Where things stand in a drawing so many pixels wide: pure geometry, so that no library and no canvas is needed. */
export class SeasonPlot {
  readonly line = { left: LEFT, right: 0, y: MIDDLE };
  readonly pole = { top: TOP, foot: HEIGHT - FOOT };
  readonly words = Object.entries(WORDS).map(([word, pm]) => ({ word, x: LEFT - 8, y: y(pm) + 5 }));
  readonly months: { on: string; x: number; y: number }[];
  readonly outlines: Outline[];
  readonly #days: MangerDay[];
  readonly #wide: number;

  constructor(days: MangerDay[], level_pm: number, today: string, width: number) {
    this.#days = days;
    this.line.right = Math.max(LEFT + 1, width - RIGHT);
    this.#wide = (this.line.right - LEFT) / days.length;
    // A month whose first days are cut off on the left would be named over the words.
    const named = days.slice(3).filter(([on]) => on.endsWith("-01"));
    this.months = named.map(([on]) => ({ on, x: this.x(on), y: HEIGHT - 8 }));
    this.outlines = this.#drawn(level_pm, today);
  }

  /** The middle of a day. */
  x(on: string): number {
    return LEFT + this.#wide * (dayOf(on) - dayOf(this.#days[0]![0]) + 0.5);
  }

  /** A mark far to the right is written to the left of its pole. */
  flag(on: string, low: boolean): { x: number; y: number; anchor: "start" | "end" } {
    const at = this.x(on);
    const far = at > LEFT + 0.7 * (this.line.right - LEFT);
    return { x: far ? at - 6 : at + 6, y: low ? this.pole.foot - 4 : TOP + 11, anchor: far ? "end" : "start" };
  }

  #drawn(level_pm: number, today: string): Outline[] {
    const paths = new Map<string, Outline>();
    for (const day of this.#days) {
      const planned = day[0] > today;
      for (const [shape, from, to] of shapes(away(day), level_pm)) {
        const key = `${shape} ${planned}`;
        const outline = paths.get(key) ?? { shape, planned, d: "" };
        const [left, wide] = [px(this.x(day[0]) - this.#wide / 2), px(this.#wide)];
        outline.d += `M${left} ${px(from)}h${wide}V${px(to)}h-${wide}z`;
        paths.set(key, outline);
      }
    }
    return [...paths.values()];
  }
}

/** A filled heap above, a hollow trough with a firm foot below, a low solid bar where it is level. */
function shapes(pm: number | null, level_pm: number): [shape: Shape, from: number, to: number][] {
  if (pm === null) return [];
  if (Math.abs(pm) <= level_pm) return [["level", MIDDLE - LEVEL_PX, MIDDLE + LEVEL_PX]];
  if (pm > 0) return [["over", y(pm), MIDDLE]];
  return [["trough", MIDDLE, y(pm)], ["foot", y(pm) - FOOT_PX, y(pm) + FOOT_PX]];
}
