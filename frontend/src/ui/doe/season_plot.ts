import type { MangerDay } from "../../core/outlook/verdict/season.ts";
import type { Doe } from "../model/shapes.ts";
import { dayOf } from "../words/format.ts";

export const HEIGHT = 168;
/** Room for the words on the left and the months at the foot. */
const [LEFT, RIGHT, TOP, FOOT] = [62, 10, 14, 30];
const MIDDLE = (TOP + HEIGHT - FOOT) / 2;
const MOST_PM = 400;
const ROOM_PM = 470;
/** Half as high as what is level is drawn, and as the foot of a trough. */
const [LEVEL_PX, FOOT_PX] = [5, 1.5];
/** Where, per thousand, the words beside the line stand. */
const WORDS = { over: 240, level: 0, short: -240 };

/** How many days are drawn: from her breeding, in bounds, to a month ahead. */
export const AHEAD_D = 30;
const [BACK_D, BACK_MOST_D] = [60, 120];
export function backOf({ bred }: Pick<Doe, "bred">, today: string): number {
  return Math.min(BACK_MOST_D, Math.max(BACK_D, bred ? dayOf(today) - dayOf(bred.from) : 0));
}

export type Shape = "level" | "over" | "trough" | "foot";
export interface Outline {
  shape: Shape;
  planned: boolean;
  /** A path of every column of this kind: a hundred days are a handful of elements. */
  d: string;
}

const within = (pm: number) => Math.max(-MOST_PM, Math.min(MOST_PM, pm));

/**
 * How far a day's feeding stood from the middle of the figures for need, per thousand; null where nothing is known. Far
 * values stop at the edge. `high_pm`: by how much the default need stands above that middle.
 */
export function away([, got, need]: MangerDay, high_pm = 0): number | null {
  return got < 0 || need <= 0 ? null : within(Math.round((got * (1000 + high_pm)) / need) - 1000);
}

/** What the word goes by: how far the default need stands above the middle, what is level, whether it says over. */
export interface Word {
  high_pm: number;
  level_pm: number;
  is_over: boolean;
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

  /** The band the word takes for level, day by day. */
  readonly ribbon: string;

  constructor(days: MangerDay[], word: Word, today: string, width: number) {
    this.#days = days;
    this.line.right = Math.max(LEFT + 1, width - RIGHT);
    this.#wide = (this.line.right - LEFT) / days.length;
    // A month whose first days are cut off on the left would be named over the words.
    const named = days.slice(3).filter(([on]) => on.endsWith("-01"));
    this.months = named.map(([on]) => ({ on, x: this.x(on), y: HEIGHT - 8 }));
    this.outlines = this.#drawn(word, today);
    this.ribbon = this.#ribbon(word);
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

  /** Open at the top while nothing bears out that she gets too much. */
  #ribbon({ level_pm, is_over }: Word): string {
    const top = px(y(is_over ? level_pm : ROOM_PM));
    const left = this.line.left;
    const foot = this.#days.map((day, i) => {
      const at = px(y(within(day[4] - 1000)));
      return `V${at}H${px(left + this.#wide * (i + 1))}`;
    });
    return `M${px(left)} ${top}${foot.join("")}V${top}z`;
  }
  #drawn({ high_pm, level_pm, is_over }: Word, today: string): Outline[] {
    const paths = new Map<string, Outline>();
    for (const day of this.#days) {
      const planned = day[0] > today;
      const most_pm = is_over ? level_pm : ROOM_PM;
      for (const [shape, from, to] of shapes(away(day, high_pm), day[4] - 1000, most_pm)) {
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

/** A filled heap above, a hollow trough with a firm foot below, a low solid bar where the word is level. */
function shapes(pm: number | null, least: number, most: number): [shape: Shape, from: number, to: number][] {
  if (pm === null) return [];
  if (pm >= least && pm <= most) return [["level", y(pm) - LEVEL_PX, y(pm) + LEVEL_PX]];
  if (pm > 0) return [["over", y(pm), MIDDLE]];
  return [["trough", MIDDLE, y(pm)], ["foot", y(pm) - FOOT_PX, y(pm) + FOOT_PX]];
}
