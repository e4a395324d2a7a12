import { readingOf } from "../base/clock.ts";
import { DAY_MS, dateOf } from "../base/days.ts";
import type { Doe, Fields, View } from "../state/view.ts";

/**
 * The day something was written down, by the clock its entries carry: what was over by then nobody here could do.
 * A date of Greenwich's, so that it is the same on every phone wherever it travels.
 */
export function noted_on(record: Fields, written = ""): string {
  const first = Object.values(record.stamp).sort()[0] ?? "";
  return [first, written].map(date_of).sort().at(-1)!;
}

/** Of the farm: its first animal. */
export function noted_with({ does }: Pick<View, "does">): string {
  return Object.values<Doe>(does).map((doe) => noted_on(doe)).sort()[0] ?? "";
}

function date_of(hlc: string): string {
  const read = readingOf(hlc);
  return read ? dateOf(Math.floor(read.ms / DAY_MS)) : "";
}
