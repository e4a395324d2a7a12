import { untrack } from "svelte";
import { drawn } from "../../core/base/env.ts";
import { saying } from "../model/saying.svelte.ts";
import { route } from "../shell/router.svelte.ts";

/** A question that follows from a tap on this doe comes out from under what sticks to the foot of the screen. */
export const askedOf = (doe: string) => (at: HTMLElement): void => {
  const said = untrack(() => saying.toast);
  if (said?.event?.subject !== doe || said.moves !== untrack(() => route.moves)) return;
  // once the bar that says so stands there too
  void drawn().then(() => at.scrollIntoView({ block: "nearest" }));
};
