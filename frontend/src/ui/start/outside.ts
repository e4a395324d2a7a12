import { DOORS } from "../joining/doors.ts";
import { session } from "../model/session.svelte.ts";
import { route } from "../shell/router.svelte.ts";

/** No farm is open, and it is not the sign-in that is to be shown. */
export function isOutside(): boolean {
  return session.stage === "farms" || (session.stage === "sign_in" && DOORS.includes(route.parts[0] ?? ""));
}
