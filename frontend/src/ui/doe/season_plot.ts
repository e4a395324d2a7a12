import uPlot from "uplot";
import type { MangerDay } from "../../core/outlook/season.ts";
import { dayOf } from "../words/format.ts";
import { t } from "../words/text.ts";

export interface Plot {
  destroy(): void;
}
export interface Mark {
  on: string;
  text: string;
  /** Written at the foot, so that two marks on neighbouring days stay readable. */
  low: boolean;
}

const MOST_PM = 400;
const ROOM_PM = 470;
const HEIGHT = 220;
const CSS_COLOURS = ["ink", "soft", "hair", "short", "level", "over", "ground"] as const;
type Colours = Record<(typeof CSS_COLOURS)[number], string>;

/** How far a day's feeding stood from need, per thousand; null where nothing is known. Far values stop at the edge. */
export function away(day: MangerDay): number | null {
  const [, got, need] = day;
  if (got < 0 || need <= 0) return null;
  return Math.max(-MOST_PM, Math.min(MOST_PM, Math.round((got * 1000) / need) - 1000));
}

/** Draws the season; throws when the chart library cannot start on this phone. */
export function draw(into: HTMLElement, days: MangerDay[], marks: Mark[], level_pm: number, today: string): Plot {
  const colours = read(into);
  const x = days.map(([on]) => dayOf(on));
  const months = days.slice(3).filter(([on]) => on.endsWith("-01")).map(([on]) => on);
  const font = `600 14px ${getComputedStyle(into).fontFamily}`;
  const axis = { stroke: colours.soft, font, ticks: { show: false }, grid: { show: false } };
  const size = () => ({ width: into.clientWidth, height: HEIGHT });
  const chart = new uPlot(
    {
      ...size(),
      scales: { x: { time: false, range: () => [x[0]! - 1, x.at(-1)! + 1] }, y: { range: () => [-ROOM_PM, ROOM_PM] } },
      cursor: { show: false },
      legend: { show: false },
      axes: [
        { ...axis, size: 30, splits: () => months.map(dayOf), values: () => months.map((on) => t(`month.${Number(on.slice(5, 7))}`)) },
        { ...axis, size: 58, splits: () => [-240, 0, 240], values: () => ["short", "level", "over"].map((word) => t(`season.${word}`)) },
      ],
      series: [{}, { show: false }],
      hooks: { draw: [(u) => paint(u, days, marks, level_pm, today, colours)] },
    },
    [x, days.map(away)],
    into,
  );
  const watch = new ResizeObserver(() => chart.setSize(size()));
  watch.observe(into);
  return {
    destroy() {
      watch.disconnect();
      chart.destroy();
    },
  };
}

function read(into: HTMLElement): Colours {
  const style = getComputedStyle(into);
  return Object.fromEntries(CSS_COLOURS.map((name) => [name, style.getPropertyValue(`--${name}`).trim()])) as Colours;
}

function paint(u: uPlot, days: MangerDay[], marks: Mark[], level_pm: number, today: string, colours: Colours): void {
  const { ctx } = u;
  const px = devicePixelRatio;
  const x = (on: string) => u.valToPos(dayOf(on), "x", true);
  const y = (pm: number) => u.valToPos(pm, "y", true);
  const wide = Math.max(px, (x(days.at(-1)![0]) - x(days[0]![0])) / days.length);
  ctx.save();
  for (const day of days) {
    const pm = away(day);
    if (pm !== null) column(ctx, { left: x(day[0]) - wide / 2, wide, line: y(0), end: y(pm), level: Math.abs(pm) <= level_pm, planned: day[0] > today }, colours, px);
  }
  rail(ctx, u.bbox.left, u.bbox.left + u.bbox.width, y(0), colours.ink, px);
  marks.forEach(({ on }) => pole(ctx, x(on), u, colours.ink, px));
  marks.forEach(({ on, text, low }) => flag(ctx, x(on), u, text, low, colours, px));
  ctx.restore();
}

interface Column {
  left: number;
  wide: number;
  line: number;
  end: number;
  level: boolean;
  planned: boolean;
}

/** A filled heap above, a hollow trough below, a low solid bar where it is level; what is only planned is drawn paler. */
function column(ctx: CanvasRenderingContext2D, c: Column, colours: Colours, px: number): void {
  const up = c.end < c.line;
  ctx.globalAlpha = c.planned ? 0.5 : 1;
  ctx.fillStyle = ctx.strokeStyle = c.level ? colours.level : up ? colours.over : colours.short;
  if (c.level || up) {
    const end = c.level ? c.line - 5 * px : c.end;
    ctx.fillRect(c.left, end, c.wide + 0.5, c.line - end + (c.level ? 5 * px : 0));
    return;
  }
  ctx.globalAlpha *= 0.22;
  ctx.fillRect(c.left, c.line, c.wide + 0.5, c.end - c.line);
  ctx.globalAlpha = c.planned ? 0.6 : 1;
  ctx.fillRect(c.left, c.end - 1.5 * px, c.wide + 0.5, 3 * px);
}

function rail(ctx: CanvasRenderingContext2D, from: number, to: number, at: number, colour: string, px: number): void {
  ctx.globalAlpha = 1;
  ctx.fillStyle = colour;
  ctx.fillRect(from, at - 1.5 * px, to - from, 3 * px);
}

function pole(ctx: CanvasRenderingContext2D, at: number, u: uPlot, colour: string, px: number): void {
  ctx.strokeStyle = colour;
  ctx.lineWidth = 2 * px;
  ctx.setLineDash([5 * px, 4 * px]);
  ctx.beginPath();
  ctx.moveTo(at, u.bbox.top);
  ctx.lineTo(at, u.bbox.top + u.bbox.height);
  ctx.stroke();
  ctx.setLineDash([]);
}

/** On ground of its own: the next mark's pole may stand right beside this one. */
function flag(ctx: CanvasRenderingContext2D, at: number, u: uPlot, text: string, low: boolean, colours: Colours, px: number): void {
  const { top, height, left, width } = u.bbox;
  const size = 14 * px;
  ctx.font = `700 ${size}px system-ui, sans-serif`;
  ctx.textAlign = "left";
  ctx.textBaseline = "alphabetic";
  const wide = ctx.measureText(text).width;
  const from = at > left + width * 0.7 ? at - 5 * px - wide : at + 5 * px;
  const foot = low ? top + height - 4 * px : top + 12 * px;
  ctx.fillStyle = colours.ground;
  ctx.fillRect(from - px, foot - size, wide + 2 * px, size + 4 * px);
  ctx.fillStyle = colours.ink;
  ctx.fillText(text, from, foot);
}
