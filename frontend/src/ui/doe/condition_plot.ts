import type { Doe } from "../model/shapes.ts";
import type { SeasonPlot } from "./season_plot.ts";

export const CONDITION_HEIGHT = 92;
/** What is drawn of the scale of 1 to 5, in hundredths: no doe we feed for should leave it. */
const [LEAST, MOST] = [150, 450];
const EDGE = 8;

export interface ScorePoint {
  ev: string;
  x100: number;
  x: number;
  y: number;
}

/** Where her scores stand under the days of her season. Pure geometry. */
export class ConditionPlot {
  readonly points: ScorePoint[];
  readonly #plot: SeasonPlot;

  constructor(scores: Doe["scores"], plot: SeasonPlot) {
    this.#plot = plot;
    this.points = scores.flatMap(([on, x100, , ev]) => {
      const x = plot.x(on);
      return x < plot.line.left || x > plot.line.right ? [] : [{ ev, x100, x, y: this.y(x100) }];
    });
  }
  get path(): string {
    return this.points.map(({ x, y }) => `${Math.round(x)},${Math.round(y)}`).join(" ");
  }
  /** Scores off the picture stand at its edge. */
  y(x100: number): number {
    const seen = Math.max(LEAST, Math.min(MOST, x100));
    return EDGE + ((CONDITION_HEIGHT - 2 * EDGE) * (MOST - seen)) / (MOST - LEAST);
  }
  anchor(x: number): "middle" | "end" {
    return x > this.#plot.line.right - 20 ? "end" : "middle";
  }
}
