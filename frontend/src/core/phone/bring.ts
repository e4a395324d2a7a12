import type * as Brought from "./brought.ts";

let here: typeof Brought | null = null;

/** This phone has lost the second script, and the network does not give it either. */
export class NoSecond extends Error {}

/** Null until it is here: what a tap needs to be shown and stored may not hang on it. */
export function brought(): typeof Brought | null {
  return here;
}

/** It comes with the second script, while the farm is read: nothing is folded, judged or sent before it is here. */
export async function bring(): Promise<typeof Brought> {
  const all = here ?? (await import("./brought.ts").catch(() => null));
  if (!all) throw new NoSecond();
  return (here = all);
}
