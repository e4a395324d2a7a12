import { expect, test } from "vitest";
import type { MangerDay } from "../../src/core/outlook/verdict/season.ts";
import { HEIGHT, SeasonPlot } from "../../src/ui/doe/season_plot.ts";

const WIDTH = 328;
const TODAY = "2026-11-25";
/** Sixty days from October on, each so far from need, per thousand. */
const season = (pm: (i: number) => number | null, n = 60): MangerDay[] =>
  Array.from({ length: n }, (_, i) => {
    const away = pm(i);
    const on = new Date(Date.UTC(2026, 9, 3 + i)).toISOString().slice(0, 10);
    return [on, away === null ? -1 : 1000 + away, 1000, 0, 920];
  });
const WORD = { high_pm: 0, level_pm: 80, is_over: true };
const plot = (days: MangerDay[], width = WIDTH) => new SeasonPlot(days, WORD, TODAY, width);
const numbers = (d: string) => [...d.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n));
const columns = (d: string) => d.split("M").length - 1;

test("every known day is one column, of the kind that its distance from need calls for", () => {
  const { outlines } = plot(season((i) => [null, 50, 300, -300][i % 4]!));
  const drawn = Object.fromEntries(outlines.map(({ shape, planned, d }) => [`${shape} ${planned}`, columns(d)]));
  expect(drawn).toEqual({
    "level false": 14, "over false": 13, "trough false": 13, "foot false": 13,
    "over true": 2, "trough true": 2, "foot true": 2, "level true": 1,
  });
});

test.each([[1], [2], [60], [150]])("a season of %i days stays within its own drawing", (n) => {
  for (const width of [200, 328, 720]) {
    const { outlines, months, line } = plot(season((i) => (i % 2 ? 4000 : -990), n), width);
    const starts = outlines.flatMap(({ d }) => (d.match(/M[^M]+V\S+?(?=h)/g) ?? []).map(numbers));
    expect(starts).toHaveLength(n + Math.ceil(n / 2));
    for (const [x, from, wide, to] of starts as [number, number, number, number][]) {
      expect(x).toBeGreaterThanOrEqual(line.left - 0.1);
      expect(x + wide).toBeLessThanOrEqual(line.right + 0.2);
      expect(Math.min(from, to)).toBeGreaterThan(0);
      expect(Math.max(from, to)).toBeLessThan(HEIGHT - 30);
    }
    for (const { x } of months) expect(x).toBeLessThanOrEqual(line.right);
  }
});

test("more than needed stands above the line and less below it, the further the more", () => {
  const top = (pm: number) => numbers(plot(season(() => pm)).outlines[0]!.d)[1]!;
  const foot = (pm: number) => numbers(plot(season(() => pm)).outlines[0]!.d)[3]!;
  const { line } = plot(season(() => 0));
  expect(top(300)).toBeLessThan(top(150));
  expect(top(150)).toBeLessThan(line.y);
  expect(foot(-150)).toBeGreaterThan(line.y);
  expect(foot(-300)).toBeGreaterThan(foot(-150));
});

test("months are named where they begin, and a mark on the right is written to the left of its pole", () => {
  const drawn = plot(season(() => 0));
  expect(drawn.months.map(({ on }) => on)).toEqual(["2026-11-01", "2026-12-01"]);
  expect(drawn.flag("2026-10-10", false)).toMatchObject({ anchor: "start" });
  const far = drawn.flag("2026-11-30", true);
  expect(far.anchor).toBe("end");
  expect(far.x).toBeLessThan(drawn.x("2026-11-30"));
  expect(far.y).toBeGreaterThan(drawn.flag("2026-10-10", false).y);
});

test("what the word takes for level is drawn as level: down to the floor late, and up while nothing bears out over", () => {
  const late: MangerDay[] = season(() => -250).map(([on, got, need]) => [on, got, need, 700, 700]);
  expect(plot(late).outlines.map(({ shape }) => shape)).toEqual(["level", "level"]);
  expect(plot(season(() => -250)).outlines.map(({ shape }) => shape)).toContain("trough");
  const rich = new SeasonPlot(season(() => 250), { ...WORD, is_over: false }, TODAY, WIDTH);
  expect(rich.outlines.map(({ shape }) => shape)).toEqual(["level", "level"]);
});
