import { expect, test } from "vitest";
import { ColumnsPlot, type Column } from "../../src/ui/back/columns_plot.ts";

const column = (more: Partial<Column> = {}): Column => ({
  label: "2026", hay_g: 1500, grain_g: 500, scores: [300, 300, 275], alive: 2, dead: 1, ...more,
});

test("bars are to one scale, grain below and hay on top of it, the highest as high as there is room", () => {
  const plot = new ColumnsPlot([column(), column({ hay_g: 750, grain_g: 250 })], 328);
  const [one, half] = plot.columns;
  const room = plot.feed.foot - plot.feed.top;
  expect(one!.hay!.height + one!.grain!.height).toBeCloseTo(room, 0);
  expect(half!.hay!.height + half!.grain!.height).toBeCloseTo(room / 2, 0);
  expect(one!.grain!.y + one!.grain!.height).toBeCloseTo(plot.feed.foot, 1);
  expect(one!.hay!.y + one!.hay!.height).toBeCloseTo(one!.grain!.y, 1);
});

test("what nobody knows is not drawn, and no bar is not a bar of nothing", () => {
  const unknown = column({ hay_g: -1, grain_g: -1, scores: [-1, 300, -1], alive: 0, dead: 0 });
  const [bare] = new ColumnsPlot([unknown], 328).columns;
  expect([bare!.hay, bare!.grain, bare!.line, bare!.dots.length, bare!.kids.length]).toEqual([null, null, "", 1, 0]);
});

test("scores stop at the edge of their band, and lie higher the fatter she is", () => {
  const plot = new ColumnsPlot([column()], 328);
  const { top, foot } = plot.condition;
  expect([plot.score_y(100), plot.score_y(200), plot.score_y(300), plot.score_y(500)]).toEqual([
    foot, foot, (top + foot) / 2, top,
  ]);
});

test.each([1, 3, 6, 20])("%i columns stay within the drawing, side by side", (n) => {
  const plot = new ColumnsPlot(Array.from({ length: n }, () => column({ alive: 3, dead: 1 })), 328);
  for (const [at, one] of plot.columns.entries()) {
    const [left, right] = [one.hay!.x, one.hay!.x + one.hay!.width];
    expect(left).toBeGreaterThanOrEqual(plot.left);
    expect(right).toBeLessThanOrEqual(plot.right);
    if (at > 0) expect(left).toBeGreaterThan(plot.columns[at - 1]!.hay!.x + plot.columns[at - 1]!.hay!.width - 0.2);
  }
});

test("kids stand in a row, the living first", () => {
  const [one] = new ColumnsPlot([column()], 328).columns;
  expect(one!.kids.map(({ alive }) => alive)).toEqual([true, true, false]);
  expect(one!.kids[1]!.x).toBeCloseTo(one!.x, 1);
});
