/** Pages of the door, which need no farm: by a link somebody was sent, or from the sign-in. */
export const DOORS: readonly string[] = ["join", "new", "forgot", "mail", "step"];
/** With them the pages of somebody who is signed in, on a farm or on none. */
export const WITH_NO_FARM: readonly string[] = [...DOORS, "bring"];
