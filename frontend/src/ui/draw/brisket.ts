// The breastbone cut across just behind the elbows: bone above, the pad a hand takes hold of below.
import { between } from "./loin.ts";

const DEPTH = [5, 13, 25, 36, 47];
const WIDTH = [10, 18, 28, 37, 46];

const bowl = (w: number, top: number, y: number) =>
  `C${60 - w} ${y} ${60 - w * 0.55} ${y} 60 ${y}S${60 + w} ${y} ${60 + w} ${top}`;

export function pad(x100: number): string {
  const w = between(WIDTH, x100);
  return `M${60 - w} 33${bowl(w, 33, 36 + between(DEPTH, x100))}Z`;
}

export function hide(x100: number): string {
  const w = between(WIDTH, x100) + 6;
  return `M6 4C9 22 ${60 - w} 22 ${60 - w} 34${bowl(w, 34, 42 + between(DEPTH, x100))}C${60 + w} 22 111 22 114 4`;
}

export const STERNUM = "M60 14c5 0 8 4 8 9s-2 13-8 13-8-8-8-13 3-9 8-9z";
export const RIBS = "M50 20C38 20 26 14 18 4M70 20c12 0 24-6 32-16";
