import { untrack } from "svelte";
import { drawn } from "../../core/base/env.ts";

let last = Promise.resolve();

/**
 * What stands further down a page: worked when it is first drawn, and after a change of what it hangs on once what is
 * above has been painted, each in a frame of its own.
 */
export function later<T>(hangs_on: () => unknown, work: () => T): { readonly now: T } {
  let now = $state.raw(untrack(work));
  let first = true;
  $effect(() => {
    hangs_on();
    if (first) return void (first = false);
    let over = false;
    last = last.then(drawn).then(() => {
      if (!over) now = untrack(work);
    });
    return () => (over = true);
  });
  return {
    get now() {
      return now;
    },
  };
}
