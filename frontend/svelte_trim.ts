import type { Plugin } from "vite";

/**
 * The page is drawn on the phone and nowhere else, and every component is written with runes. The runtime's switches for
 * taking over a server's page, for older components, tracing and asynchronous components therefore never move, and the
 * bundler can drop what hangs on them. A text that is no longer found stops the build.
 */
const NEVER_SWITCHED: [RegExp, RegExp, string][] = [
  [/client\/dom\/hydration\.js$/, /export let hydrating = false;/, "export const hydrating = false;"],
  [/client\/dom\/hydration\.js$/, /\thydrating = value;/, ""],
  [/internal\/flags\/index\.js$/, /export let (\w+_mode_flag) = false;/g, "export const $1 = false;"],
  [/internal\/flags\/index\.js$/, /^\t\w+_mode_flag = (true|false);/gm, ""],
];

export function svelteTrim(): Plugin {
  return {
    name: "svelte-trim",
    apply: "build",
    transform(code, id) {
      const mine = NEVER_SWITCHED.filter(([file]) => file.test(id));
      return mine.length && id.includes("/svelte/") ? { code: mine.reduce(settled, code), map: null } : null;
    },
  };
}

function settled(code: string, [file, from, to]: (typeof NEVER_SWITCHED)[number]): string {
  if (code.search(from) < 0) throw new Error(`svelte-trim: no ${from.source} in ${file.source}`);
  return code.replace(from, to);
}
