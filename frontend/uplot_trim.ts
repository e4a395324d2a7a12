import type { Plugin } from "vite";

/**
 * The season drawing uses the chart library for its scales, axes and canvas, and paints the manger line itself. What it
 * never calls (other path shapes, cursor and mouse, legend, clock axes, log scales) is emptied before bundling: a third
 * of the library's bytes. The version is pinned; a name that is no longer found stops the build.
 */
const NEVER_CALLED = [
  "bars", "stepped", "splineInterp", "_monotoneCubic", "linear", "points", "findGaps", "clipBandLine", "drawSeries", "drawPath",
  "strokeFill", "fillStroke", "updateCursor", "cacheMouse", "mouseUp", "mouseLeave", "mouseMove", "mouseDown", "dblClick",
  "initLegendRow", "timeAxisSplits", "timeAxisVals", "tzDate", "join", "logAxisSplits", "asinhAxisSplits",
  "rangeLog",
];
const TIME_ON = /const FEAT_TIME +?= true;/;

export function uplotTrim(): Plugin {
  return {
    name: "uplot-trim",
    apply: "build",
    transform(code, id) {
      if (!/uPlot\.esm\.js$/.test(id)) return null;
      if (!TIME_ON.test(code)) throw new Error("uplot-trim: the time switch is gone");
      return { code: NEVER_CALLED.reduce(emptied, code).replace(TIME_ON, "const FEAT_TIME = false;"), map: null };
    },
  };
}

/** Functions in the published file open at the end of a line and close on a line of their own at the same depth. */
function emptied(code: string, name: string): string {
  const opening = new RegExp(`^(\\t*)function ${name}\\(.*\\{\\n`, "m").exec(code);
  if (!opening) throw new Error(`uplot-trim: no function ${name}`);
  const body = opening.index + opening[0].length;
  const end = code.indexOf(`\n${opening[1]}}\n`, body - 1);
  return code.slice(0, body) + code.slice(end + 1);
}
