import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** Her grain, as long as it is held: until when, and who tapped it. */
export function heldText({ freeze }: Doe): string {
  if (!freeze || freeze.until < day.today || freeze.since > day.today) return "";
  const key = freeze.grain_out && freeze.out_on <= day.today ? "held.out" : "held.raises";
  return t(key, { on: day.spoken(freeze.until), who: session.who(freeze.author) });
}
