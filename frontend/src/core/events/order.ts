import type { Envelope } from "./events.ts";

/** Plain comparison of code units: the same answer in every locale. For stamps, ids and dates, which are ASCII. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The order Python gives to any text: by code point, where JavaScript alone would put an emoji before some letters. */
export function byCodePoint(a: string, b: string): number {
  const length = Math.min(a.length, b.length);
  for (let i = 0; i < length; i++) {
    const [x, y] = [a.charCodeAt(i), b.charCodeAt(i)];
    if (x !== y) return pastSurrogates(x) - pastSurrogates(y);
  }
  return a.length - b.length;
}

function pastSurrogates(unit: number): number {
  return unit >= 0xe000 ? unit - 0x800 : unit >= 0xd800 ? unit + 0x2000 : unit;
}

/** Observations and state events: by when it happened. */
export function byHappened(a: Envelope, b: Envelope): number {
  return a.happened - b.happened || byStamp(a, b);
}

/** Record fields and rations: by the hybrid clock. */
export function byStamp(a: Envelope, b: Envelope): number {
  return compareText(a.hlc, b.hlc) || compareText(a.id, b.id);
}
