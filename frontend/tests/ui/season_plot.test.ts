import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { afterEach, expect, test, vi } from "vitest";
import type { MangerDay } from "../../src/core/outlook/season.ts";
import { trimmed } from "../../uplot_trim.ts";

const whole = readFileSync(
  createRequire(import.meta.url)
    .resolve("uplot")
    .replace("uPlot.cjs.js", "uPlot.esm.js"),
  "utf8",
);
const DAYS = Array.from({ length: 60 }, (_, i): MangerDay => {
  const on = new Date(Date.UTC(2026, 9, 3 + i)).toISOString().slice(0, 10);
  return [on, i % 11 === 0 ? -1 : 9000 + 120 * i, 12_000 + 40 * i, 0];
});

/** A canvas that notes every stroke, and as much of a page as the chart library needs. */
function paper() {
  const strokes: string[] = [];
  const note = (name: string, args: unknown[]) => void strokes.push(`${name}(${JSON.stringify(args)})`);
  const ctx = new Proxy({ measureText: () => ({ width: 30 }) } as Record<string, unknown>, {
    get: (kept, name: string) => kept[name] ?? ((...args: unknown[]) => note(name, args)),
    set: (kept, name: string, value) => (note(name, [value]), (kept[name] = value), true),
  });
  class Element {
    classList = { add: () => {}, remove: () => {}, contains: () => false };
    style: Record<string, string> = {};
    clientWidth = 340;
    getContext = () => ctx;
    insertBefore = appended;
    appendChild = appended;
    addEventListener = () => {};
    removeEventListener = () => {};
    getBoundingClientRect = () => ({ width: 300, height: 180, left: 0, top: 0 });
    remove = () => note("removed", []);
  }
  return { strokes, Element };
}
const appended = <T>(child: T): T => child;

async function drawn(library: string): Promise<string[]> {
  const { strokes, Element } = paper();
  const page = { addEventListener: () => {}, removeEventListener: () => {}, dispatchEvent: () => true };
  let resized = () => {};
  const globals = {
    window: page, document: { createElement: () => new Element() }, HTMLElement: Element, devicePixelRatio: 2,
    matchMedia: () => page,
    getComputedStyle: () => ({ fontFamily: "serif", getPropertyValue: (name: string) => `colour of ${name}` }),
    ResizeObserver: class { constructor(run: () => void) { resized = run; } observe() {} disconnect() {} },
  };
  for (const [name, value] of Object.entries(globals)) vi.stubGlobal(name, value);
  vi.resetModules();
  vi.doMock("uplot", () => import(`data:text/javascript;base64,${Buffer.from(library).toString("base64")}`));
  const { draw } = await import("../../src/ui/doe/season_plot.ts");
  const into = new Element();
  const plot = draw(
    into as unknown as HTMLElement, DAYS, [{ on: "2026-11-25", text: "now", low: false }], 80, "2026-11-25",
  );
  await Promise.resolve();
  into.clientWidth = 700;
  resized();
  await Promise.resolve();
  plot.destroy();
  return strokes;
}

afterEach(() => vi.unstubAllGlobals());

test("the trimmed chart library draws a season, resizes and leaves, stroke for stroke like the whole one", async () => {
  const strokes = await drawn(whole);
  expect(strokes.filter((stroke) => stroke.startsWith("fillRect")).length).toBeGreaterThan(100);
  expect(strokes.filter((stroke) => stroke.startsWith("fillText")).length).toBeGreaterThan(10);
  expect(strokes.at(-1)).toBe("removed([])");
  expect(await drawn(trimmed(whole))).toEqual(strokes);
});

test("half of the library is gone, and a library that is not this one stops the build", () => {
  expect(trimmed(whole).length).toBeLessThan(0.6 * whole.length);
  expect(() => trimmed(whole.replace("function mouseDown", "function pressed"))).toThrow("no function mouseDown");
  expect(() => trimmed(whole.replace("showCursor", "cursorShown"))).toThrow("showCursor");
});
