/** Pages of the door, which need no farm: by a link somebody was sent, or from the sign-in. */
export const DOORS: readonly string[] = ["join", "new", "forgot", "mail", "step"];
