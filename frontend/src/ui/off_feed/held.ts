import { model } from "../model/model.svelte.ts";
import type { Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** Her grain, as long as it is held: until when, and who tapped it. */
export function heldText({ freeze }: Doe): string {
  if (!freeze || freeze.until < model.today || freeze.since > model.today) return "";
  const key = freeze.grain_out && freeze.out_on <= model.today ? "held.out" : "held.raises";
  return t(key, { on: model.day(freeze.until), who: model.who(freeze.author) });
}
