import type { Doe } from "../../state/view.ts";

/** The last milking that was planned for her, once it is past and nobody has said whether it was; "" otherwise. */
export function unsaid_last(doe: Doe, today: string): string {
  const last = doe.bred && !doe.dried_on && !doe.left_on ? doe.dry_plan?.last_on ?? "" : "";
  return last < today && !doe.milks.some(([on, g]) => on > last && g > 0) ? last : "";
}
