import type { Grown } from "../../core/barn/kids.ts";
import { dayOf } from "../words/format.ts";

export const HEIGHT = 150;
const [LEFT, RIGHT, TOP, FOOT] = [8, 8, 28, 40];

export const GROUND = HEIGHT - 4;

export interface GrowthPoint extends Grown {
  x: number;
  y: number;
}

/** Its weights over its days, from nothing at the foot. Pure geometry. */
export function growth_points(rows: Grown[], width: number): GrowthPoint[] {
  if (!rows.length) return [];
  const [first, last] = [dayOf(rows[0]!.on), dayOf(rows.at(-1)!.on)];
  const most_g = Math.max(...rows.map(({ g }) => g));
  const days = Math.max(1, last - first);
  return rows.map((row) => ({
    ...row,
    x: Math.round(LEFT + ((width - LEFT - RIGHT) * (dayOf(row.on) - first)) / days),
    y: Math.round(HEIGHT - FOOT - ((HEIGHT - TOP - FOOT) * row.g) / most_g),
  }));
}

export const path_of = (points: GrowthPoint[]) => points.map(({ x, y }) => `${x},${y}`).join(" ");
