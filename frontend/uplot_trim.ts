import type { Plugin } from "vite";

/**
 * The season drawing uses the chart library for its scales, axes and canvas, and paints the manger line itself. What it
 * never asks for (series of the library's own, cursor and mouse, legend, selection, clock axes, log scales) is settled or
 * emptied before bundling: half of the library's bytes. The version is pinned; a text that is no longer found stops the
 * build, and a test draws a season with the whole library and with the trimmed one and compares every stroke.
 */
const SETTLED: [RegExp, string][] = [
  [/const FEAT_TIME +?= true;/, "const FEAT_TIME = false;"],
  [/const mode = self\.mode;/, "const mode = 1;"],
  [/const showLegend = legend\.show;/, "const showLegend = false;"],
  [/const showCursor = +cursor\.show;/, "const showCursor = false;"],
  [/const cursorOnePt = [^;]+;/, "const cursorOnePt = false;"],
  [/\bcursor\.dataIdx == null/, "false"],
  [/\b(legend\.live|select\.show|opts\.title|(ticks|grid|border)\.show|axis\.label != null)\b/g, "false"],
  [/\bisTime = [^;]+;/g, "isTime = false;"],
  [/\b(sc\.d|xScaleD|d)istr (==|>=) \d+\b/g, "false"],
  // A season of one day: the library would work out a range of its own, ours follows anyway.
  [/\[_min, _max\] = rangeNum\([^;]+;/, "_max = _min + 1;"],
  // These run at the very start; the first two ask for the phone's locale, and throw where it has none.
  [/const numFormatter = [^;]+;/, "const numFormatter = null;"],
  [/const localTz = [^;]+;/, "const localTz = null;"],
  [/const (days|months)3 = [^;]+;/g, "const $13 = null;"],
  [
    /^const \[ timeIncrs(Ms|S), [^;]+;/gm,
    "const timeIncrs$1 = null, _timeAxisStamps$1 = null, timeAxisSplits$1 = () => null;",
  ],
  [/^genIncrs\(2, [^;]+;/m, ""],
  [/^uPlot\.assign = assign;[^]*?(?=^export )/m, ""],
];
const NEVER_CALLED = `
  bars stepped splineInterp _monotoneCubic linear points findGaps clipBandLine drawSeries _drawAcc rect orient accScale
  seriesFillTo seriesPointsShow bandFillClipDirs getOuterIdxs addSeries delSeries setSeries setBand addBand delBand join
  updateCursor cacheMouse mouseUp mouseLeave mouseMove mouseDown dblClick onMouse offMouse initCursorPt cursorMove
  cursorPointShow cursorPointFill cursorPointStroke cursorPointSize filtBtn0 filtTarg closestIdxFromXpos posToVal
  initLegendRow legendStroke legendFill setLegend setLegendValues syncLegend toggleDOM setAlpha setFocus
  setSelect setSelH setSelV hideSelect pubSync pub batch flushHooks
  fmtDate tzDate genTimeStuffs timeAxisVals timeAxisVal timeAxisStamps timeSeriesVal timeSeriesStamp
  rangeLog rangeAsinh rangeNum _rangeNum snapNumX snapNumY snapLogY snapAsinhY
  logAxisSplits asinhAxisSplits numAxisSplits numAxisVals numSeriesVal log10AxisValsFilt log2AxisValsFilt
`.trim().split(/\s+/);

export function uplotTrim(): Plugin {
  return {
    name: "uplot-trim",
    apply: "build",
    transform: (code, id) => (/uPlot\.esm\.js$/.test(id) ? { code: trimmed(code), map: null } : null),
  };
}

export function trimmed(code: string): string {
  return SETTLED.reduce(settled, NEVER_CALLED.reduce(emptied, code));
}

function settled(code: string, [from, to]: [RegExp, string]): string {
  if (code.search(from) < 0) throw new Error(`uplot-trim: no ${from.source}`);
  return code.replace(from, to);
}

/** Functions in the published file open at the end of a line and close on a line of their own at the same depth. */
function emptied(code: string, name: string): string {
  const opening = new RegExp(`^(\\t*)function ${name}\\(.*\\{\\n`, "m").exec(code);
  if (!opening) throw new Error(`uplot-trim: no function ${name}`);
  const body = opening.index + opening[0].length;
  const end = code.indexOf(`\n${opening[1]}}\n`, body - 1);
  return code.slice(0, body) + code.slice(end + 1);
}
