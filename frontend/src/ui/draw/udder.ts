// A doe seen from behind, 100 wide and 110 high; each half of the bag is drawn by itself so that one can hang fuller.
type Half = { wide: number; deep: number; teat: number; thick: number; splay: number };

const HALVES: Half[] = [
  { wide: 11, deep: 15, teat: 6, thick: 2, splay: 0 },
  { wide: 14, deep: 22, teat: 8, thick: 2.4, splay: 1 },
  { wide: 17.5, deep: 31, teat: 10, thick: 3, splay: 2 },
  { wide: 21, deep: 40, teat: 11, thick: 3.8, splay: 3.5 },
  { wide: 24, deep: 46, teat: 13, thick: 5.2, splay: 7 },
];

export const LAST_FILL = HALVES.length - 1;
const TOP = 34;
const n = (value: number) => Math.round(value * 10) / 10;

function halfAt(fill: number): Half {
  return HALVES[Math.min(Math.max(Math.round(fill), 0), LAST_FILL)] as Half;
}

export function bag(fill: number, side: 1 | -1): string {
  const h = halfAt(fill);
  const x = (d: number) => n(50 + side * d);
  const y = (share: number) => n(TOP + h.deep * share);
  const side_of = `M50 ${TOP}C${x(h.wide * 0.7)} ${TOP} ${x(h.wide * 1.1)} ${y(0.45)} ${x(h.wide)} ${y(0.7)}`;
  const floor = `S${x(h.wide * 0.62)} ${y(1.02)} ${x(h.wide * 0.48)} ${y(1)}S${x(1)} ${y(0.95)} 50 ${y(0.82)}`;
  return side_of + floor;
}

export function teat(fill: number, side: 1 | -1): string {
  const h = halfAt(fill);
  const x = (d: number) => n(50 + side * d);
  const root = h.wide * 0.54;
  const tip = root + h.splay;
  const top = TOP + h.deep * 0.97;
  const end = n(top + h.teat);
  const down = `M${x(root - h.thick)} ${n(top)}L${x(tip - h.thick * 0.6)} ${end}`;
  const up = `Q${x(tip)} ${n(end + 2.4)} ${x(tip + h.thick * 0.6)} ${end}L${x(root + h.thick)} ${n(top - 1)}`;
  return down + up;
}

/** Lines that say how it feels: slack folds in an empty bag, a shine on a tight one. */
export function feel(fill: number): string {
  if (fill <= 0) return "M44 39q-1 4 0 7M56 39q1 4 0 7M50 40v6";
  if (fill === 1) return "M45 42q-1 4 0 7M55 42q1 4 0 7";
  if (fill < LAST_FILL) return "";
  return "M31 50q-3 8-1 15M36 45q-1 2-2 4M69 50q3 8 1 15M64 45q1 2 2 4";
}

export const RUMP =
  "M13 108V88c0-7-3-12-5-22C4 44 10 16 30 7c6-3 13-4 20-4s14 1 20 4c20 9 26 37 22 59-2 10-5 15-5 22v20";
export const LEGS = "M27 108V90c0-6 1-9 0-15-1-9-4-17-2-27M73 108V90c0-6-1-9 0-15 1-9 4-17 2-27";
export const TAIL = "M42 5c-1 9 2 19 8 24 6-5 9-15 8-24";
