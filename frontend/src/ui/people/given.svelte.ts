import { SvelteMap } from "svelte/reactivity";
import type { Given } from "../../core/phone/sync/account_shapes.ts";

/** Link, picture and code as the server gave them: once, and on no disk. */
export const given = new SvelteMap<string, Given>();
