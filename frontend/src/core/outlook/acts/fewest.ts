import { div } from "../../base/ints.ts";

/** The least of so many parts that is enough, where all of them are. */
export function* fewest(most: number, enough: (n: number) => boolean): Generator<void, number> {
  let [too_few, found] = [0, most];
  while (found - too_few > 1) {
    yield;
    const middle = div(too_few + found, 2);
    if (enough(middle)) found = middle;
    else too_few = middle;
  }
  return found;
}
