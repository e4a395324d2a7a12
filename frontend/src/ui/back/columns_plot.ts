/** One column of the drawing: what she was fed a day, her condition at three turns, her kids. -1 is not known. */
export interface Column {
  label: string;
  hay_g: number;
  grain_g: number;
  scores: number[];
  alive: number;
  dead: number;
}

export const HEIGHT = 236;
const [LEFT, RIGHT] = [78, 6];
/** Feed stands on its line, condition hangs in a band of its own, kids are counted at the foot. */
const FEED = { top: 18, foot: 112 };
const CONDITION = { top: 130, foot: 172, low: 200, high: 400 };
const KIDS_Y = 194;
const [BAR_MOST, KID_R, KID_APART] = [34, 5, 13];

interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

export interface Drawn {
  label: string;
  x: number;
  hay: Box | null;
  grain: Box | null;
  /** Above the bar. */
  top: number;
  line: string;
  dots: { x: number; y: number }[];
  kids: { x: number; alive: boolean }[];
}

const round = (n: number) => Math.round(n * 10) / 10;

/** Where things stand in a drawing so many pixels wide: plain geometry, one column a kidding or a year. */
export class ColumnsPlot {
  readonly feed = FEED;
  readonly condition = CONDITION;
  readonly kids_y = KIDS_Y;
  readonly left = LEFT;
  readonly right: number;
  readonly columns: Drawn[];
  readonly #wide: number;
  readonly #most_g: number;

  constructor(columns: Column[], width: number) {
    this.right = Math.max(LEFT + 1, width - RIGHT);
    this.#wide = (this.right - LEFT) / Math.max(1, columns.length);
    this.#most_g = Math.max(1, ...columns.map(({ hay_g, grain_g }) => Math.max(0, hay_g) + Math.max(0, grain_g)));
    this.columns = columns.map((column, n) => this.#drawn(column, LEFT + this.#wide * (n + 0.5)));
  }

  /** A score as a height; what lies outside the band stops at its edge. */
  score_y(x100: number): number {
    const { top, foot, low, high } = CONDITION;
    const part = (Math.min(high, Math.max(low, x100)) - low) / (high - low);
    return round(foot - (foot - top) * part);
  }

  #drawn(column: Column, x: number): Drawn {
    const grain = this.#bar(x, FEED.foot, column.grain_g);
    const hay = this.#bar(x, grain?.y ?? FEED.foot, column.hay_g);
    const dots = column.scores.flatMap((x100, n) =>
      x100 < 0 ? [] : [{ x: round(x + (n - 1) * Math.min(14, this.#wide / 4)), y: this.score_y(x100) }],
    );
    return {
      label: column.label, x: round(x), hay, grain, top: hay?.y ?? grain?.y ?? FEED.foot,
      line: dots.length > 1 ? `M${dots.map(({ x, y }) => `${x} ${y}`).join("L")}` : "", dots,
      kids: this.#kids(column, x),
    };
  }

  #bar(x: number, foot: number, g: number): Box | null {
    if (g <= 0) return null;
    const width = Math.min(BAR_MOST, this.#wide * 0.6);
    const height = ((FEED.foot - FEED.top) * g) / this.#most_g;
    return { x: round(x - width / 2), y: round(foot - height), width: round(width), height: round(height) };
  }

  #kids({ alive, dead }: Column, x: number): Drawn["kids"] {
    const born = alive + dead;
    const apart = Math.min(KID_APART, this.#wide / Math.max(1, born));
    return Array.from({ length: born }, (_, n) => ({
      x: round(x + (n - (born - 1) / 2) * apart), alive: n < alive,
    }));
  }

  get kid_r(): number {
    return KID_R;
  }
}
