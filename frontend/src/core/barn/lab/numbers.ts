import { div, mod } from "../../base/ints.ts";

/** Figures of a report as whole ten-thousandths: 18.25 is 182500. */
export const ONE = 10_000;
export const HUNDRED = 100 * ONE;
const WRITTEN = /^([0-9]{1,6})(?:[.,]([0-9]{1,4}))?$/;

/** Ten-thousandths, and half of the last digit written. */
export interface Figure {
  v: number;
  slack: number;
}

/** With a point or a comma; null when it is no plain number. */
export function figure(text: string): Figure | null {
  const found = WRITTEN.exec(text.trim());
  if (!found) return null;
  const decimals = found[2] ?? "";
  const v = Number(found[1]) * ONE + Number(decimals.padEnd(4, "0"));
  return { v, slack: decimals.length < 4 ? 5 * 10 ** (3 - decimals.length) : 1 };
}

/**
 * value x times / over, rounded half up; all whole and not negative. A slip of the thumb can be larger than a plain
 * number holds.
 */
export function ratio(value: number, times: number, over: number): number {
  return Number((2n * BigInt(value) * BigInt(times) + BigInt(over)) / (2n * BigInt(over)));
}

/** Ten-thousandths in steps of `per`, rounded half up. */
export const whole = (value: number, per: number): number => div(2 * value + per, 2 * per);

export const tenths = (v: number): string => decimal(div(2 * v + 1000, 2000), 10, 1);
export const hundredths = (v: number): string => decimal(div(2 * v + 100, 200), 100, 2);

function decimal(steps: number, per: number, digits: number): string {
  return `${div(steps, per)}.${String(mod(steps, per)).padStart(digits, "0")}`;
}
