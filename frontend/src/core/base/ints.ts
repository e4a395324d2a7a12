/** Whole-number arithmetic below 2^53: what the other language does exactly, this must not round. */
export function div(a: number, b: number): number {
  return Math.floor(whole(a) / b);
}

/** Rounds nothing away silently: a product that has outgrown exact whole numbers is a fault of the inputs. */
export function whole(value: number): number {
  if (!Number.isSafeInteger(value)) throw new RangeError(`beyond exact whole numbers: ${value}`);
  return value;
}

/** The remainder that goes with `div`: never negative for a positive divisor. */
export function mod(a: number, b: number): number {
  return whole(a) - div(a, b) * b;
}

export function sum(values: Iterable<number>): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

/** The largest whole number whose square is not above the value. */
export function isqrt(value: number): number {
  let root = Math.floor(Math.sqrt(whole(value)));
  while (root * root > value) root -= 1;
  while ((root + 1) * (root + 1) <= value) root += 1;
  return root;
}

const LARGEST_SQUARED = 2 ** 24;
const COARSER = 1024;

/** The root of a sum of squares; of parts too large to square exactly, to the nearest thousand or so. */
export function root_of_squares(parts: number[]): number {
  const by = parts.some((part) => Math.abs(part) > LARGEST_SQUARED) ? COARSER : 1;
  return isqrt(sum(parts.map((part) => div(part, by) ** 2))) * by;
}
