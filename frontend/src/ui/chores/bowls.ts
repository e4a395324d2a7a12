import type { FeedLine } from "../model/shapes.ts";
import { inHand } from "../sentences/amounts.ts";

/** What most bowls of a pen are filled with, and by which scoop: said once for all of them. */
export interface Alike {
  feed: string;
  scoop: string;
}

export function alikeOf(lines: FeedLine[]): Alike | null {
  const own = lines.filter(([to]) => to !== "").map(([, feed, g]) => ({ feed, scoop: inHand(feed, g).scoop }));
  const count = (one: Alike) => own.filter(({ feed, scoop }) => feed === one.feed && scoop === one.scoop).length;
  return own.length > 1 ? own.reduce((a, b) => (count(b) > count(a) ? b : a)) : null;
}
