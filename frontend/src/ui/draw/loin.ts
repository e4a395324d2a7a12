// The loin cut across behind the last rib, seen from behind: x 0..120, spine at 60, side bones reaching 22 and 98.
// Hand-drawn shapes for the five whole scores; quarter points lie between them.
type Shape = { crest: number; dip: number; slope: number; side: number; edge: number };

const SHAPES: Shape[] = [
  { crest: 13, dip: 43, slope: 0.15, side: 47, edge: 54 },
  { crest: 13, dip: 37, slope: 0.55, side: 45, edge: 53 },
  { crest: 12, dip: 29, slope: 0.95, side: 43, edge: 53 },
  { crest: 12, dip: 17, slope: 0.5, side: 28, edge: 52 },
  { crest: 14, dip: 4, slope: -0.2, side: 16, edge: 49 },
];

const n = (value: number) => Math.round(value * 100) / 100;

export function between(rows: number[], x100: number): number {
  const at = Math.min(Math.max((x100 - 100) / 100, 0), rows.length - 1);
  const low = Math.floor(at);
  const a = rows[low] ?? 0;
  const b = rows[low + 1] ?? a;
  return n(a + (b - a) * (at - low));
}

function shape(x100: number): Shape {
  const pick = (key: keyof Shape) => between(SHAPES.map((one) => one[key]), x100);
  return { crest: pick("crest"), dip: pick("dip"), slope: pick("slope"), side: pick("side"), edge: pick("edge") };
}

export function skin(x100: number): string {
  const s = shape(x100);
  const half = (sign: 1 | -1) => {
    const x = (d: number) => 60 + sign * d;
    const spine = `C${x(6)} ${s.crest} ${x(12)} ${n(s.dip - s.slope * 8)} ${x(20)} ${s.dip}`;
    const flank = `S${x(39)} ${s.side} ${x(44)} ${s.edge}Q${x(47)} ${s.edge + 10} ${x(46)} 80`;
    return spine + flank;
  };
  return `M60 ${s.crest}${half(1)}M60 ${s.crest}${half(-1)}`;
}

export const BONES =
  "M60 18c4 0 4 4 4 8v14c8 2 24 7 34 12 3 2 2 6-2 5-11-2-22-3-32-2-1 5-7 5-8 0-10-1-21 0-32 2-4 1-5-3-2-5 10-5 26-10 34-12V26c0-4 0-8 4-8z";
